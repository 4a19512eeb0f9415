import type { BodyLine, RigCheck } from '../../machines/journal.ts';
import { type Rehearsal, type RehearsalOptions, rehearse } from '../../machines/rehearsal/rehearse.ts';
import { PRAISE_NEEDS } from '../../machines/ticks.ts';

/** Invented drills that a Debrief must look well on: a good pair, a poor one, a long stall, hardly any data, and a long one. */
export const SAMPLE_DRILLS = ['good', 'poor', 'stall', 'short', 'long'] as const;
export type SampleDrill = (typeof SAMPLE_DRILLS)[number];

const STEADY = { paceOffPct: 0, driftPctPerMin: 0, clockSdMs: 9, motorSdMs: 5, breathClockSdMs: 14 };
const PEOPLE = { A: 'Mirela', B: 'Ivo' };

const OPTIONS: Record<SampleDrill, RehearsalOptions> = {
  good: { seed: 11, minutes: 2, pair: { A: STEADY, B: STEADY }, planted: [] },
  poor: {
    seed: 12,
    minutes: 4,
    plan: 'whole',
    pair: { A: { paceOffPct: -9, clockSdMs: 30 }, B: { breathAheadMs: -170, breathClockSdMs: 60 } },
    faultRates: { 'early-breath': 0.15, 'fourth-compression': 0.06, 'missed-breath-gap': 0.05, stall: 0.02 },
    handovers: { kinds: ['slow'] },
  },
  stall: { seed: 13, minutes: 1.5, plan: 'steady', planted: [{ cycle: 12, fault: 'stall' }] },
  short: { seed: 14, minutes: 0.33, plan: 'steady', planted: [] },
  long: { seed: 15, minutes: 30, plan: 'techniques' },
};

/** Ticked as an instructor would in the good and the poor drill: all met in one, a release that was not in the other. */
const TICKS: Partial<Record<SampleDrill, readonly [item: string, met: boolean][]>> = {
  good: PRAISE_NEEDS.map((item) => [item, true]),
  poor: [
    ['chest-rise', true],
    ['full-release', false],
    ['depth', true],
  ],
};

const RIG_CHECK = {
  outcome: 'passed',
  at: '2026-03-02T08:40:00.000Z',
  techniques: ['two-thumb', 'two-finger'],
  stances: ['foot-end', 'head-end', 'side'],
} satisfies RigCheck;

export function sampleDrill(name: SampleDrill): Rehearsal {
  const rehearsal = rehearse({ ...OPTIONS[name], people: PEOPLE });
  const ticks = (TICKS[name] ?? []).map(
    ([item, met]): BodyLine => ({ kind: 'tick', at: 0, item, met, by: 'instructor' }),
  );
  // In every bout: what was seen in one says nothing of the next.
  const lines = rehearsal.lines.flatMap((line): BodyLine[] => {
    if (
      line.kind !== 'call' ||
      !['begin', 'finish', 'swap', 'technique', 'stance', 'check', 'rest'].includes(line.call)
    )
      return [line];
    return line.call === 'begin'
      ? [line]
      : [...ticks.map((tick) => ({ ...tick, at: line.at }) as BodyLine), line];
  });
  return { ...rehearsal, open: { ...rehearsal.open, rigCheck: RIG_CHECK }, lines };
}
