import { type Binding, type BodyLine, type OpenLine, switchesOf } from '../journal.ts';
import type { Ms } from '../units.ts';
import { openLineOf } from './open-line.ts';

export type MetronomeOptions = {
  /** Complete cycles; the first compression of one more closes the last. */
  cycles: number;
  cycleMs?: Ms;
  /** Onset of the first compression, drill ms; 1000 when not given. Begin is called at 0. */
  startMs?: Ms;
  chestMs?: Ms;
  breathMs?: Ms;
  binding?: Binding;
};

/**
 * The ideal grid: a press every quarter of a cycle, three compressions and a breath, exact, with no call but begin and finish.
 * Of 30 cycles of 2,000 ms come exactly 90 compressions and 30 breaths a minute, 0.75 as the breath's phase (check file 1.3 [C]).
 */
export function metronome(options: MetronomeOptions): { open: OpenLine; lines: BodyLine[] } {
  const {
    cycles,
    cycleMs = 2000,
    startMs = 1000,
    chestMs = 200,
    breathMs = 400,
    binding = 'place',
  } = options;
  const open = openLineOf({ seed: 0, binding, cycleMs, stepMs: 0 });
  const [chest, airway] = switchesOf(binding);
  const edges: BodyLine[] = [];
  for (let beat = 0; beat <= 4 * cycles; beat += 1) {
    const isBreath = beat % 4 === 3;
    const at = startMs + (beat * cycleMs) / 4;
    const name = isBreath ? airway : chest;
    edges.push({ kind: 'edge', at, switch: name, down: true });
    edges.push({ kind: 'edge', at: at + (isBreath ? breathMs : chestMs), switch: name, down: false });
  }
  const endMs = startMs + cycles * cycleMs + cycleMs / 2;
  const lines: BodyLine[] = [
    { kind: 'call', at: 0, call: 'begin' },
    ...edges,
    { kind: 'call', at: endMs, call: 'finish' },
    { kind: 'close', at: endMs },
  ];
  return { open, lines };
}
