import { TICK_ITEMS, type TickItem } from '../ticks.ts';
import type { Ms } from '../units.ts';
import { type Held, lengthOfRuns, type Role, runsOfRole } from './evidence.ts';
import { type FigureFinding, figureFindings, type Status } from './figure-findings.ts';
import type { Standard } from './standard.ts';

/** One requirement held against what there is, in each role it is asked in. */
export type Finding =
  | { kind: 'rig'; status: Status }
  | { kind: 'unled seconds'; role: Role; leastMs: Ms; foundMs: Ms; status: Status }
  /** `why`: a swap without a gap leaves open who compressed; `none`: there was no unled swap that was taken up. */
  | { kind: 'swap'; status: Status; why: 'none' | 'seamless' | null }
  | FigureFinding
  /** The longest of some handovers; null: there was none. */
  | { kind: 'handover pause'; mostMs: Ms; foundMs: Ms | null; count: number; status: Status }
  | { kind: 'tick'; item: TickItem; role: Role | null; status: Status; why: TickLack };
export type TickLack = 'not ticked' | 'only an observer ticked it' | 'not seen' | 'not met' | null;

/** What there is to sign on: the instructor decides. */
export type Assessment = { standard: string; overall: Status; findings: readonly Finding[] };

/** In which role a learner shows it; null: in either. */
const ROLE_OF_TICK: Record<TickItem, Role | null> = {
  'chest-rise': 'ventilator',
  'full-release': 'compressor',
  depth: 'compressor',
  position: 'compressor',
  'counts-aloud': 'compressor',
  'mask-seal': 'ventilator',
  'squeeze-length': 'ventilator',
  'fingers-support': 'compressor',
  'firm-surface': null,
  'ventilation-corrected': null,
  'airway-secured': null,
  'oxygen-raised': null,
};

/**
 * Holds one learner's drills against a standard, all their cycles that count taken together (evidence.ts says which do); a rhythm
 * rig's never count, and on an unchecked manikin nothing is met, whatever the standard asks. Overall: met when every requirement is met; not yet when one is; else not assessed.
 */
export function assess({ name, requires }: Standard, drills: readonly Held[]): Assessment {
  const held = drills
    .filter(({ evidence }) => evidence.rig === 'manikin')
    .sort((one, other) => compare(one.evidence.openedAt, other.evidence.openedAt));
  const asked = requires.unledSeconds;
  const roles = (['compressor', 'ventilator'] as const).filter((role) => asked?.[role] !== undefined);
  const { timing } = requires;
  const most = timing?.['handovers.pauseMs']?.most;
  const findings: Finding[] = [
    ...(requires.rig === undefined && held.every(({ evidence }) => evidence.isRigChecked)
      ? []
      : [rigFinding(held)]),
    ...roles.map((role) => secondsFinding(held, role, 1000 * (asked?.[role] ?? 0))),
    ...(requires.swap === undefined ? [] : [swapFinding(held)]),
    ...(timing === undefined
      ? []
      : (roles.length > 0 ? roles : (['compressor', 'ventilator'] as const)).flatMap((role) =>
          figureFindings(timing, role, held),
        )),
    ...(most === undefined ? [] : [pauseFinding(held, most)]),
    ...TICK_ITEMS.filter((item) => requires.ticks?.includes(item)).map((item) => tickFinding(held, item)),
  ];
  return { standard: name, overall: overallOf(findings), findings };
}

function compare(one: string, other: string): number {
  if (one === other) return 0;
  return one < other ? -1 : 1;
}

/** Met only when every one is met. */
function overallOf(findings: readonly Finding[]): Status {
  const has = (status: Status) => findings.some((finding) => finding.status === status);
  if (has('not yet')) return 'not yet';
  return has('not assessed') || findings.length === 0 ? 'not assessed' : 'met';
}

function rigFinding(held: readonly Held[]): Finding {
  const counted = held.filter(({ evidence }) => evidence.stretches.length > 0);
  const isMet = counted.length > 0 && counted.every(({ evidence }) => evidence.isRigChecked);
  return { kind: 'rig', status: isMet ? 'met' : 'not assessed' };
}

function secondsFinding(held: readonly Held[], role: Role, leastMs: Ms): Finding {
  const runs = held.flatMap(({ evidence, person }) => runsOfRole(evidence, person, role));
  const foundMs = lengthOfRuns(runs);
  const status = foundMs >= leastMs ? 'met' : 'not yet';
  return { kind: 'unled seconds', role, leastMs, foundMs, status };
}

function swapFinding(held: readonly Held[]): Finding {
  const outcomes = held.flatMap(({ evidence }) =>
    evidence.handovers.filter(({ reasons }) => reasons.includes('swap')).map(({ outcome }) => outcome),
  );
  if (outcomes.includes('taken up')) return { kind: 'swap', status: 'met', why: null };
  if (outcomes.includes('seamless')) return { kind: 'swap', status: 'not assessed', why: 'seamless' };
  return { kind: 'swap', status: 'not yet', why: 'none' };
}

function pauseFinding(held: readonly Held[], mostMs: Ms): Finding {
  const pauses = held.flatMap(({ evidence }) => evidence.handovers.flatMap(({ pauseMs }) => pauseMs ?? []));
  const found = { kind: 'handover pause', mostMs, count: pauses.length } as const;
  if (pauses.length === 0) return { ...found, foundMs: null, status: 'not assessed' };
  const foundMs = Math.max(...pauses);
  return { ...found, foundMs, status: foundMs <= mostMs ? 'met' : 'not yet' };
}

/** The instructor's last word on it: of each bout what was ticked last in it, of those the last that is met or not met. */
function tickFinding(held: readonly Held[], item: TickItem): Finding {
  const role = ROLE_OF_TICK[item];
  const ticks = held.flatMap(({ evidence, person }, drill) =>
    evidence.ticks
      .filter((tick) => tick.item === item && (role === null || tick.roles[role] === person))
      .map((tick) => ({ ...tick, bout: `${drill}/${tick.bout}` })),
  );
  const lastOfBout = new Map(
    ticks.filter(({ by }) => by === 'instructor').map(({ bout, seen }) => [bout, seen]),
  );
  const seen = [...lastOfBout.values()];
  const word = seen.findLast((one) => one !== 'not seen') ?? seen.at(-1);
  const found = { kind: 'tick', item, role } as const;
  if (word === 'met') return { ...found, status: 'met', why: null };
  if (word === 'not met') return { ...found, status: 'not yet', why: 'not met' };
  if (word === 'not seen') return { ...found, status: 'not assessed', why: 'not seen' };
  return {
    ...found,
    status: 'not assessed',
    why: ticks.length > 0 ? 'only an observer ticked it' : 'not ticked',
  };
}
