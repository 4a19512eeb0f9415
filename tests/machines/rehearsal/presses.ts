import type { BodyLine, EdgeLine, Switch } from '../../../machines/journal.ts';
import type { Rehearsal } from '../../../machines/rehearsal/rehearse.ts';

/** A press read back from a journal without noise, in drill ms. */
export type PressRead = { on: number; off: number };

/** Every press of one switch, each down edge with the up edge after it. */
export function pressesOf(lines: readonly BodyLine[], name: Switch): PressRead[] {
  const edges = lines.filter((line): line is EdgeLine => line.kind === 'edge' && line.switch === name);
  return edges.flatMap((edge, k) => {
    const next = edges[k + 1];
    return edge.down && next !== undefined && !next.down ? [{ on: edge.at, off: next.at }] : [];
  });
}

/** The presses of one cycle of a place-bound rehearsal, by the truth's cycle starts; the last cycle has no end. */
export function cycleOf(
  { lines, truth }: Rehearsal,
  cycle: number,
): { chest: PressRead[]; airway: PressRead[]; next: number } {
  const start = truth.cycles[cycle]?.startMs ?? Number.NaN;
  const next = truth.cycles[cycle + 1]?.startMs ?? Number.POSITIVE_INFINITY;
  const within = ({ on }: PressRead) => on >= start && on < next;
  return {
    chest: pressesOf(lines, 'chest').filter(within),
    airway: pressesOf(lines, 'airway').filter(within),
    next,
  };
}

/** The whole journal as its file's text. */
export function textOf({ open, lines }: Pick<Rehearsal, 'open' | 'lines'>): string {
  return `${[open, ...lines].map((line) => JSON.stringify(line)).join('\n')}\n`;
}
