import type { Person, Rig, Roles, Tolerance } from '../journal.ts';
import { CYCLE_MS } from '../pattern.ts';
import type { Cause } from '../scoring/advice-causes.ts';
import { exactTiming } from '../scoring/cycle-row.ts';
import { type Figure, numberOf } from '../scoring/figure.ts';
import { type Figures, figuresOf } from '../scoring/figures.ts';
import { type JudgedRow, judgedRows } from '../scoring/judged-rows.ts';
import type { BoutRow, DrillReport } from '../scoring/report.ts';
import { NOT_MEASURED, ofCycles } from './english.ts';
import { formatNumber } from './format.ts';

/** A learner's own page: words, no milliseconds (design section 7). */
export const LEARNER_WORDS = {
  title: (name: string) => `${name}’s page`,
  roles: {
    manikin: { compressor: 'On the chest', ventilator: 'On the bag' },
    rhythm: { compressor: 'Compressing', ventilator: 'Giving the breath' },
  } satisfies Record<Rig, Record<keyof Roles, string>>,
  what: 'What',
  happened: 'What happened',
  wanted: 'What is wanted',
  pairNote:
    'What one of you does the other answers to: these are figures of the pair while you held the role.',
  none: 'No complete cycle in either role at the usual tempo.',
  led: { all: 'All of it was with the count on.', some: 'Some of it was with the count on.' },
} as const;

/** One thing about a learner in a role: what happened, and what is wanted. */
export type LearnerLine = { what: string; happened: string; wanted: string };
/** `led`: that the count was on in it, or in some of it; null when it was off throughout. */
export type LearnerRole = { role: keyof Roles; title: string; lines: LearnerLine[]; led: string | null };

/**
 * What a person did in each role they held, over the cycles of the drill's own rig at the usual tempo. A cycle counts against the one through whom
 * it went wrong, as in the advice: so the page and the advice beside it say the same.
 */
export function learnerRoles(report: DrillReport, rows: readonly BoutRow[], person: Person): LearnerRole[] {
  const { bouts, drill } = report;
  const judged = judgedRows(report, rows);
  return (['compressor', 'ventilator'] as const).flatMap((role) => {
    const own = judged.filter(({ bout }) => bouts[bout]?.roles[role] === person && !bouts[bout].slowed);
    if (own.length === 0) return [];
    const held: Held = {
      own,
      // Not the report's own: those have slowed stretches in them, and rows whose timing is of two triplets.
      figures: figuresOf(
        [own.filter(({ isOfTwoTriplets }) => !isOfTwoTriplets).map(({ source }) => source)],
        drill.tolerance,
      ),
      tolerance: drill.tolerance,
    };
    const lines = role === 'compressor' ? chestLines(held) : bagLines(held);
    return [{ role, title: LEARNER_WORDS.roles[drill.rig][role], lines, led: ledWords(own) }];
  });
}

/** A person's rows in a role, and the figures of those that are whole. */
type Held = { own: readonly JudgedRow[]; figures: Figures; tolerance: Tolerance };

function chestLines(held: Held): LearnerLine[] {
  return [
    {
      what: 'Three compressions',
      happened: without(
        held,
        'four compressions',
        'no room',
        'compression not registered',
        'two or one, by whom is not known',
      ),
      wanted: 'in every cycle',
    },
    {
      what: 'Pace',
      happened: paceWords(held.figures.compressor.intervalMs.mean),
      wanted: `90 a minute (${formatNumber(240_000 / CYCLE_MS, 0)} inside the three)`,
    },
    { what: 'Evenly spaced', happened: evenWords(held), wanted: 'in every cycle' },
    {
      what: 'Room left for the breath',
      happened: without(held, 'compression too soon', 'no room', 'four compressions', 'compression held'),
      wanted: 'in every cycle',
    },
    { what: 'Pauses', happened: pauseWords(held), wanted: 'none' },
  ];
}

function bagLines(held: Held): LearnerLine[] {
  return [
    {
      // Every complete cycle has a breath, at its end: one that was not registered makes it a cycle of two triplets.
      what: 'A breath registered',
      happened: registeredWords(held),
      wanted: 'after every three',
    },
    {
      what: 'Waited for the third to be let up',
      happened: without(held, 'breath too soon', 'breath before the third'),
      wanted: 'in every cycle',
    },
    { what: 'Where the breath came', happened: placeWords(held), wanted: 'on “breathe”' },
    { what: 'Let go in time', happened: without(held, 'let go late'), wanted: 'in every cycle' },
  ];
}

function ledWords(own: readonly JudgedRow[]): string | null {
  const { all, some } = LEARNER_WORDS.led;
  if (own.every(({ source }) => source.guidance === 'led' && !source.guidanceChanged)) return all;
  return own.every(({ source }) => source.guidance === 'unled' && !source.guidanceChanged) ? null : some;
}

/** "26 of 40 cycles" went wrong in none of these ways. */
function without(held: Held, ...named: Cause[]): string {
  return ofCycles(held.own.length - withAny(held, ...named).length, held.own.length);
}

function withAny({ own }: Held, ...named: Cause[]): JudgedRow[] {
  return own.filter(({ causes }) => named.some((cause) => causes.includes(cause)));
}

/** Of the cycles of three and a breath alone: of others nobody knows which interval should be which. */
function evenWords(held: Held): string {
  const exact = held.own.filter((row) => !row.isOfTwoTriplets && exactTiming(row.source) !== null);
  if (exact.length === 0) return NOT_MEASURED;
  const even = exact.filter(({ causes }) => !causes.includes('uneven'));
  const words = ofCycles(even.length, exact.length);
  return exact.length === held.own.length ? words : `${words} of three and a breath`;
}

/** Where the breaths came on the whole, and in how many cycles elsewhere. */
function placeWords(held: Held): string {
  const late = withAny(held, 'breath late').length;
  const early = withAny(held, 'breath early', 'breath before the third').length;
  if (2 * late > held.own.length) return 'late';
  if (2 * early > held.own.length) return 'early';
  const words = lagWords(held.figures.breathLagMs.mean);
  const apart = [
    ...(late > 0 && !words.endsWith('late') ? [`late in ${late}`] : []),
    ...(early > 0 && !words.endsWith('early') ? [`early in ${early}`] : []),
  ];
  return [words, ...apart].join('; ');
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

/** Of four beats three are compressions: 90 a minute is a beat of 120, and so it is said in the advice. */
const THREE_OF_FOUR = 3 / 4;

function paceWords(intervalMs: Figure): string {
  const interval = numberOf(intervalMs);
  if (interval === null) return NOT_MEASURED;
  const perMin = 60_000 / interval;
  const wanted = 240_000 / CYCLE_MS;
  const off = perMin / wanted - 1;
  if (Math.abs(off) < SILENT_PACE) return 'in time';
  const much = Math.abs(off) <= LITTLE_PACE ? 'a little ' : '';
  const pace = formatNumber(THREE_OF_FOUR * perMin, 0);
  return `${much}${off > 0 ? 'fast' : 'slow'}: about ${pace} a minute (${formatNumber(perMin, 0)} inside the three)`;
}

/** Of the compressions: a pause that waited for a breath is that breath's. */
function pauseWords(held: Held): string {
  const paused = withAny(held, 'pause').map(({ source }) => source);
  const { count, longestMs } = figuresOf([paused], held.tolerance).pauses;
  if (paused.length === 0 || typeof count !== 'number' || typeof longestMs !== 'number') return 'none';
  const longest = `${formatNumber(longestMs / 1000, 0)} s`;
  return count === 1 ? `one, about ${longest}` : `${count}, the longest about ${longest}`;
}

function registeredWords({ own }: Held): string {
  let threes = 0;
  let breaths = 0;
  for (const { source } of own) {
    const here = Math.max(1, Math.round(source.compressions.length / 3));
    threes += here;
    breaths += Math.min(here, source.breaths.length);
  }
  return `after ${breaths} of ${threes} threes`;
}
