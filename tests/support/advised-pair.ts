import type { BodyLine, OpenLine, TickLine } from '../../machines/journal.ts';
import { FAULTS, type Fault, type FaultRates } from '../../machines/rehearsal/faults.ts';
import { type RehearsalOptions, rehearse } from '../../machines/rehearsal/rehearse.ts';
import { replay } from '../../machines/replay.ts';
import { type Advice, adviceOf } from '../../machines/scoring/advice.ts';
import { boutRowsOf, reportOf } from '../../machines/scoring/report.ts';
import { PRAISE_NEEDS } from '../../machines/ticks.ts';

/** A pair that does nothing wrong: on the wanted pace, steady in it, and without faults; noises as they are drawn. */
export const GOOD_PAIR = {
  pair: {
    A: { paceOffPct: 0, driftPctPerMin: 0 },
    B: { paceOffPct: 0, driftPctPerMin: 0 },
  },
  planted: [],
  handovers: { slowRate: 0, swapPauseMs: 2500, pauseSigma: 0.1 },
} as const satisfies Partial<RehearsalOptions>;

/** Every fault at rate 0 but those given. */
export function onlyRates(given: Partial<FaultRates>): FaultRates {
  return { ...(Object.fromEntries(FAULTS.map((fault) => [fault, 0])) as FaultRates), ...given };
}

/** A fault in every fifth cycle, from the third on. */
export function everyFifth(fault: Fault): { cycle: number; fault: Fault }[] {
  return Array.from({ length: 40 }, (_, k) => ({ cycle: 2 + 5 * k, fault }));
}

/** What a rehearsed pair is told, with the ticks that praise needs met throughout. */
export function adviceFor(options: RehearsalOptions, more: readonly BodyLine[] = []): Advice {
  const { open, lines } = rehearse(options);
  return adviceOfLines(open, [...lines, ...more]);
}

/** The same of a pair whose every so manieth breath is so much later than rehearsed, while the compressions stay where they are. */
export function adviceWithLateBreaths(options: RehearsalOptions, lateMs: number, every: number): Advice {
  const { open, lines } = rehearse(options);
  const endMs = Math.max(...lines.map((line) => ('at' in line ? (line.at ?? 0) : 0)));
  let breaths = -1;
  const moved = lines.map((line): BodyLine => {
    if (line.kind !== 'edge' || line.switch !== 'airway') return line;
    if (line.down) breaths += 1;
    return breaths % every === 0 ? { ...line, at: Math.min(endMs, line.at + lateMs) } : line;
  });
  return adviceOfLines(open, moved);
}

/** What a journal's pair is told; lines are put in order of time. */
export function adviceOfLines(open: OpenLine, lines: readonly BodyLine[]): Advice {
  const at = (line: BodyLine) => ('at' in line ? (line.at ?? 0) : 0);
  const order = [...lines].sort((one, other) => at(one) - at(other));
  const fold = replay(
    open,
    order.map((line, index) => ({ number: index + 2, line })),
  );
  return adviceOf(reportOf(fold), boutRowsOf(fold), fold);
}

/** The four ticks that praise needs, met, at a time. */
export function allMet(at: number): TickLine[] {
  return PRAISE_NEEDS.map((item) => ({ kind: 'tick', at, item, met: true, by: 'instructor' }));
}
