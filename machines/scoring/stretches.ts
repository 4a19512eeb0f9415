import type { DrillFold } from '../drill-fold.ts';
import type { Airway } from '../journal.ts';
import type { Us } from '../units.ts';
import {
  GUIDANCES,
  type Guidance,
  PERSONS,
  type Person,
  STANCES,
  type Stance,
  TECHNIQUES,
  type Technique,
} from '../vocabulary.ts';
import type { CycleRow } from './cycle-row.ts';
import { type DrillReport, runsOf } from './report.ts';

/** What two sides can differ in; `role` is who compresses. */
export const FACTORS = ['technique', 'stance', 'guidance', 'role'] as const;
export type Factor = (typeof FACTORS)[number];
/** How a pair was at work: one value a factor, and how the baby was ventilated, which is compared with nothing but must be the same on both sides. */
export type Conditions = {
  technique: Technique;
  stance: Stance;
  guidance: Guidance;
  role: Person;
  airway: Airway;
};

/** Runs of neighbouring cycles under the same conditions that nothing of the other side comes between. */
export type Stretch = { value: Conditions[Factor]; runs: CycleRow[][] };
/** Two values of a factor in stretches by turns, with all other conditions the same: `alike` has those. */
export type Turns = {
  factor: Factor;
  values: readonly [first: string, second: string];
  alike: Partial<Conditions>;
  /** In order of time; neighbours are of different sides. */
  stretches: readonly Stretch[];
};

/** Complete cycles a stretch must have to be held against another, some 20 s (tool default): a jitter of fewer says nothing. */
export const FEWEST_CYCLES = 10;
const VALUES: { readonly [F in Factor]: readonly Conditions[F][] } = {
  technique: TECHNIQUES,
  stance: STANCES,
  guidance: GUIDANCES,
  role: PERSONS,
};

/**
 * Every pair of values of a factor that a drill has stretches of, all else being the same. Bouts that are not on the drill's own rig and
 * slowed ones are in none; technique and stance are not compared on a rhythm rig, which cannot know of them. Guidance changes within a bout, so that
 * a bout falls into runs by the guidance at each cycle's start; a cycle during which it changed is in none. Bouts of the same side that only a rest, a check or
 * other conditions lie between are one stretch: only a turn of the other side makes the next one a new one.
 */
export function turnsOf({ drill, bouts }: Pick<DrillReport, 'drill' | 'bouts'>, fold: DrillFold): Turns[] {
  const parts = fold.tracker.book.bouts.flatMap((bout, index) => {
    const said = bouts[index];
    if (said === undefined || said.slowed || said.rig !== drill.rig) return [];
    const { technique, stance, roles } = bout;
    const runs = runsOf(fold, bout).flatMap((rows) => runsByCalls(rows, (atUs) => airwayAt(fold, atUs)));
    return runs.map(({ guidance, airway, rows }) => ({
      conditions: { technique, stance, guidance, role: roles.compressor, airway },
      rows,
    }));
  });
  const factors = drill.rig === 'rhythm' ? (['guidance', 'role'] as const) : FACTORS;
  return factors.flatMap((factor) => turnsIn(parts, factor));
}

/** Parts under the same conditions, but for one. */
type Group = { alike: Partial<Conditions>; parts: Part[] };
type Part = { conditions: Conditions; rows: CycleRow[] };

function turnsIn(parts: readonly Part[], factor: Factor): Turns[] {
  const groups = new Map<string, Group>();
  for (const part of parts) {
    const { [factor]: _, ...alike } = part.conditions;
    const key = JSON.stringify(alike);
    const group: Group = groups.get(key) ?? { alike, parts: [] };
    group.parts.push(part);
    groups.set(key, group);
  }
  return [...groups.values()].flatMap((group) =>
    pairsOf(VALUES[factor]).flatMap((values) => {
      const stretches = stretchesOf(group.parts, factor, values);
      return stretches.length < 2 ? [] : [{ factor, values, alike: group.alike, stretches }];
    }),
  );
}

/** Stretches long enough; where one was left out, those on both sides of it are one. */
function stretchesOf(parts: readonly Part[], factor: Factor, values: readonly string[]): Stretch[] {
  const all = parts
    .map(({ conditions, rows }) => ({ value: conditions[factor], runs: [rows] }))
    .filter(({ value }) => values.includes(value));
  return joined(joined(all).filter(({ runs }) => runs.flat().length >= FEWEST_CYCLES));
}

function joined(stretches: readonly Stretch[]): Stretch[] {
  const joint: Stretch[] = [];
  for (const { value, runs } of stretches) {
    const last = joint.at(-1);
    if (last?.value === value) last.runs.push(...runs);
    else joint.push({ value, runs: [...runs] });
  }
  return joint;
}

type Run = { guidance: Guidance; airway: Airway; rows: CycleRow[] };

function runsByCalls(rows: readonly CycleRow[], airwayAtUs: (atUs: Us) => Airway): Run[] {
  const runs: Run[] = [];
  let isBroken = true;
  for (const row of rows) {
    const run = runs.at(-1);
    const { guidance } = row;
    const airway = airwayAtUs(row.startUs);
    if (row.guidanceChanged || airway !== airwayAtUs(row.startUs + row.lengthUs)) isBroken = true;
    else if (isBroken || run?.guidance !== guidance || run.airway !== airway) {
      runs.push({ guidance, airway, rows: [row] });
      isBroken = false;
    } else run.rows.push(row);
  }
  return runs;
}

/** How the baby was ventilated at a time; a call at that very time had been made. */
function airwayAt({ open, tracker }: DrillFold, atUs: Us): Airway {
  return tracker.airwayCalls.findLast((call) => call.atUs <= atUs)?.airway ?? open.airway;
}

function pairsOf(values: readonly string[]): [string, string][] {
  return values.flatMap((first, index) =>
    values.slice(index + 1).map((second): [string, string] => [first, second]),
  );
}
