import { BEAT_KINDS } from './count/beats.ts';
import { DrillFold } from './drill-fold.ts';
import {
  type CallLine,
  type Guidance,
  type Person,
  type Rig,
  type Roles,
  type Stance,
  type Switch,
  switchesOf,
  type Technique,
} from './journal.ts';
import type { Journal } from './journal-reader.ts';
import { lateUsOf, type Press, SwitchCleaner } from './presses.ts';
import { rigOfStretch } from './rig-check/rig-check.ts';
import type { Arrangement } from './scoring/arrangement.ts';
import { exactTiming } from './scoring/cycle-row.ts';
import { type BoutRow, boutRowsOf } from './scoring/report.ts';
import { withoutUndone } from './undo.ts';
import { type Ms, toMs, toUs, type Us } from './units.ts';

/**
 * What a press counts in: `cycle`, a complete cycle, and so every figure; `bout`, a bout but no complete cycle of it;
 * `stray`, the old compressor's after a swap; `outside`, no bout.
 */
export const PRESS_COUNTS = ['cycle', 'bout', 'stray', 'outside'] as const;
export type PressCounts = (typeof PRESS_COUNTS)[number];

/** A press of a drill, whether any figure has it or not. Times in ms on the drill's clock, as they are scored. */
export type ListedPress = {
  switch: Switch;
  onMs: Ms;
  /** Where the release was lost or never came: when that was noticed. */
  offMs: Ms;
  isMeasured: boolean;
  counts: PressCounts;
  /** Who held the switch's role: in the bout, or outside of one as it was called. */
  role: keyof Roles;
  person: Person;
  technique: Technique;
  stance: Stance;
  rig: Rig;
  guidance: Guidance;
  /** T when the switch went down. */
  idealMs: Ms;
  /** From 0; null outside of bouts. */
  bout: number | null;
  /** Among the bout's complete cycles, from 0; null in none. */
  cycle: number | null;
  /** Among the cycle's compressions or breaths, from 0; null in no complete cycle. */
  place: number | null;
  /** From the heard beat of its own name, early negative; null but in an exact cycle with a heard beat near. */
  asynchronyMs: Ms | null;
};

/** Everything that was pressed and called in a drill, in order of time; the calls are those that took effect. */
export type DrillLists = { fold: DrillFold; rows: CountedRow[]; presses: ListedPress[]; calls: CallLine[] };
/** A complete cycle with its bout and its place among the bout's complete cycles, both from 0. */
export type CountedRow = BoutRow & { cycle: number };

/** What was known when a switch went down: the arrangement in force, and the bout that ran. */
type Heard = { press: Press; called: Arrangement; running: number | null };
type Place = { bout: number; cycle: number; place: number; isExact: boolean };

/** Lists a journal's presses and calls beside the fold that scores it; the fold has come to its end. */
export function drillListsOf({ open, lines }: Pick<Journal, 'open' | 'lines'>): DrillLists {
  const fold = new DrillFold(open);
  const cleaners = new Map(
    switchesOf(open.binding).map((name) => [
      name,
      new SwitchCleaner(name, toUs(open.bounceMs), lateUsOf(open, name)),
    ]),
  );
  const heard: Heard[] = [];
  const calls: CallLine[] = [];
  const strays = new Set<Us>();
  const listen = (facts: ReturnType<DrillFold['take']>) => {
    for (const fact of facts) {
      if (fact.type === 'call accepted') calls.push(fact.call);
      else if (fact.type === 'stray counted') strays.add(toUs(fact.atMs));
    }
  };
  for (const numbered of withoutUndone(lines)) {
    const { tracker } = fold;
    const called = tracker.arrangement;
    listen(fold.take(numbered));
    const { line } = numbered;
    if (line.kind !== 'edge') continue;
    const press = cleaners
      .get(line.switch)
      ?.edge(toUs(line.at), line.down, line.lost === true, tracker.inForce);
    const running = tracker.phase === 'running' ? tracker.book.lastIndex : null;
    if (press) heard.push({ press, called, running });
  }
  for (const cleaner of cleaners.values()) cleaner.end(fold.lastUs);
  listen(fold.end());
  const rows = counted(boutRowsOf(fold));
  const places = placesOf(fold, rows);
  const presses = heard
    .map((one) => listed(fold, one, takePlace(places, one.press), strays))
    .sort((one, other) => one.onMs - other.onMs);
  return { fold, rows, presses, calls };
}

function counted(rows: readonly BoutRow[]): CountedRow[] {
  let last: CountedRow | null = null;
  return rows.map((row) => {
    last = { ...row, cycle: row.bout === last?.bout ? last.cycle + 1 : 0 };
    return last;
  });
}

/** Where each press of a complete cycle stands, by its switch and onset; in order where several have both the same. */
function placesOf({ open, tracker }: DrillFold, rows: readonly CountedRow[]): Map<string, Place[]> {
  const places = new Map<string, Place[]>();
  for (const row of rows) {
    const { bout, cycle } = row;
    const roles = tracker.book.bouts[bout]?.roles;
    if (roles === undefined) continue;
    const [chest, airway]: readonly [Switch, Switch] =
      open.binding === 'place' ? switchesOf(open.binding) : [roles.compressor, roles.ventilator];
    const isExact = exactTiming(row) !== null;
    const put = (name: Switch, onUs: Us, place: number) => {
      const key = keyOf(name, row.startUs + onUs);
      const there = places.get(key) ?? [];
      places.set(key, [...there, { bout, cycle, place, isExact }]);
    };
    for (const [place, { onUs }] of row.compressions.entries()) put(chest, onUs, place);
    for (const [place, { onUs }] of row.breaths.entries()) put(airway, onUs, place);
  }
  return places;
}

function takePlace(places: Map<string, Place[]>, press: Press): Place | null {
  return places.get(keyOf(press.switch, press.onUs))?.shift() ?? null;
}

function keyOf(name: Switch, onUs: Us): string {
  return `${name} ${onUs}`;
}

function listed(fold: DrillFold, one: Heard, place: Place | null, strays: ReadonlySet<Us>): ListedPress {
  const { open, tracker, beats } = fold;
  const { press, called } = one;
  const bout = place?.bout ?? boutOf(fold, one);
  const { roles, technique, stance } = (bout === null ? undefined : tracker.book.bouts[bout]) ?? called;
  const compressorSwitch = open.binding === 'place' ? 'chest' : roles.compressor;
  const role = press.switch === compressorSwitch ? 'compressor' : 'ventilator';
  const beat = role === 'compressor' ? BEAT_KINDS[place?.place ?? 0] : 'breathe';
  return {
    switch: press.switch,
    onMs: toMs(press.onUs),
    offMs: toMs(press.offUs),
    isMeasured: press.isMeasured,
    counts: countsOf(fold, press, place, bout, strays),
    role,
    person: roles[role],
    technique,
    stance,
    rig: rigOfStretch(open, { technique, stance }),
    guidance: press.inForce.guidance,
    idealMs: toMs(press.inForce.idealUs),
    bout,
    cycle: place?.cycle ?? null,
    place: place?.place ?? null,
    asynchronyMs: place?.isExact === true && beat !== undefined ? beats.asynchronyMs(beat, press.onUs) : null,
  };
}

function countsOf(
  { open }: DrillFold,
  press: Press,
  place: Place | null,
  bout: number | null,
  strays: ReadonlySet<Us>,
): PressCounts {
  if (place !== null) return 'cycle';
  if (bout === null) return 'outside';
  return open.binding === 'person' && strays.has(press.onUs) ? 'stray' : 'bout';
}

/** The bout that ran at its line, or a later one: a handover is found after the presses that it puts into the new bout. */
function boutOf({ tracker }: DrillFold, { press, running }: Heard): number | null {
  if (running === null) return null;
  const begun = tracker.book.bouts.findLastIndex(({ startUs }) => startUs <= press.onUs);
  return Math.max(running, begun);
}
