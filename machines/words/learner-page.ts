import type { Person, Roles } from '../journal.ts';
import { CYCLE_MS } from '../pattern.ts';
import { type Fault, faultsOf } from '../scoring/faults.ts';
import { type Figure, numberOf } from '../scoring/figure.ts';
import { type Figures, figuresOf } from '../scoring/figures.ts';
import type { BoutRow, DrillReport } from '../scoring/report.ts';
import { NOT_MEASURED, ofCycles } from './english.ts';
import { formatNumber } from './format.ts';

/** A learner's own page: words, no milliseconds (design section 7). */
export const LEARNER_WORDS = {
  title: (name: string) => `${name}’s page`,
  roles: { compressor: 'On the chest', ventilator: 'On the bag' } satisfies Record<keyof Roles, string>,
  what: 'What',
  happened: 'What happened',
  wanted: 'What is wanted',
  pairNote:
    'What one of you does the other answers to: these are figures of the pair while you held the role.',
  none: 'No complete cycle in either role at the usual tempo.',
  led: 'Some of it was with the count on.',
} as const;

/** One thing about a learner in a role: what happened, and what is wanted. */
export type LearnerLine = { what: string; happened: string; wanted: string };
export type LearnerRole = { role: keyof Roles; lines: LearnerLine[] };

/** What a person did in each role they held, over the cycles of the drill's own rig at the usual tempo. */
export function learnerRoles(report: DrillReport, rows: readonly BoutRow[], person: Person): LearnerRole[] {
  const { bouts, drill } = report;
  return (['compressor', 'ventilator'] as const).flatMap((role) => {
    const own = rows.filter(({ bout, isLeftOut }) => {
      const of = bouts[bout];
      return !isLeftOut && of?.roles[role] === person && of.rig === drill.rig && !of.slowed;
    });
    if (own.length === 0) return [];
    const faults = own.map((row) => faultsOf(row, drill.tolerance));
    const without = (...named: Fault[]) =>
      ofCycles(faults.filter((of) => !named.some((fault) => of.includes(fault))).length, own.length);
    // Not the report's own: those have slowed stretches in them.
    const figures = figuresOf([own], drill.tolerance);
    return [
      { role, lines: role === 'compressor' ? chestLines(figures, own, without) : bagLines(figures, without) },
    ];
  });
}

type Without = (...named: Fault[]) => string;

function chestLines(
  { compressor, pauses }: Figures,
  rows: readonly BoutRow[],
  without: Without,
): LearnerLine[] {
  const three = rows.filter((row) => row.compressions.length === 3).length;
  return [
    { what: 'Three compressions', happened: ofCycles(three, rows.length), wanted: 'in every cycle' },
    {
      what: 'Pace of the three',
      happened: paceWords(compressor.intervalMs.mean),
      wanted: `${formatNumber(240_000 / CYCLE_MS, 0)} a minute inside the three: with the breath that makes 90`,
    },
    { what: 'Evenly spaced', happened: without('uneven compressions'), wanted: 'in every cycle' },
    {
      what: 'Room left for the breath',
      happened: without('compression too soon', 'no breath, no gap', 'breath after four'),
      wanted: 'in every cycle',
    },
    { what: 'Pauses', happened: pauseWords(pauses), wanted: 'none' },
  ];
}

function bagLines({ breathLagMs }: Figures, without: Without): LearnerLine[] {
  return [
    {
      // Every complete cycle has a breath, at its end: one that was not registered makes it too long.
      what: 'A breath registered',
      happened: without('no breath, gap left', 'no breath, no gap'),
      wanted: 'in every cycle',
    },
    {
      what: 'Waited for the third to be let up',
      happened: without('breath too soon'),
      wanted: 'in every cycle',
    },
    { what: 'Where the breath came', happened: lagWords(breathLagMs.mean), wanted: 'on “breathe”' },
    { what: 'Let go in time', happened: without('let go late'), wanted: 'in every cycle' },
  ];
}

/** Silent under 100 ms, "a little" to 200 ms (design section 7). */
const SILENT_MS = 100;
const LITTLE_MS = 200;

/** Where the breath comes after the third compression, against a quarter of a cycle. */
function lagWords(lagMs: Figure): string {
  const lag = numberOf(lagMs);
  if (lag === null) return NOT_MEASURED;
  const off = lag - CYCLE_MS / 4;
  if (Math.abs(off) < SILENT_MS) return 'on “breathe”';
  return `${Math.abs(off) <= LITTLE_MS ? 'a little ' : ''}${off < 0 ? 'early' : 'late'}`;
}

/** Tool defaults: within 3 % nothing is said of a pace, since few hear it; to 6 % (the tolerance of an interval, as a share of T) it is "a little". */
const SILENT_PACE = 0.03;
const LITTLE_PACE = 0.06;

function paceWords(intervalMs: Figure): string {
  const interval = numberOf(intervalMs);
  if (interval === null) return NOT_MEASURED;
  const perMin = 60_000 / interval;
  const wanted = 240_000 / CYCLE_MS;
  const off = perMin / wanted - 1;
  if (Math.abs(off) < SILENT_PACE) return 'in time';
  const much = Math.abs(off) <= LITTLE_PACE ? 'a little ' : '';
  return `${much}${off > 0 ? 'fast' : 'slow'}: about ${formatNumber(perMin, 0)} a minute`;
}

function pauseWords({ count, longestMs }: DrillReport['drill']['pauses']): string {
  if (typeof count !== 'number') return NOT_MEASURED;
  if (count === 0 || typeof longestMs !== 'number') return 'none';
  const longest = `${formatNumber(longestMs / 1000, 0)} s`;
  return count === 1 ? `one, about ${longest}` : `${count}, the longest about ${longest}`;
}
