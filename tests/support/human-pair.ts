import type { KeyEdge } from './key-player.ts';

type HumanPairInput = {
  seed: number;
  cycles: number;
  chest: string;
  airway: string;
  /** Cycles before which the pair stops for so long, to change over. */
  gaps?: Readonly<Record<number, number>>;
  startMs?: number;
};

/** Presses of a pair with people's irregularity: slow drift, motor noise, a breath left out now and then. Seeded. */
export function humanEdges(input: HumanPairInput): KeyEdge[] {
  const random = mulberry32(input.seed);
  const noise = (sd: number) => sd * (random() + random() + random() + random() - 2) * Math.sqrt(3);
  const edges: KeyEdge[] = [];
  const press = (code: string, onMs: number, lengthMs: number) => {
    edges.push({ atMs: round(onMs), code, down: true }, { atMs: round(onMs + lengthMs), code, down: false });
  };
  let atMs = input.startMs ?? 0;
  for (let cycle = 0; cycle < input.cycles; cycle += 1) {
    atMs += input.gaps?.[cycle] ?? 0;
    const beat = 500 + 18 * Math.sin(cycle / 5) + noise(9);
    for (let one = 0; one < 3; one += 1) press(input.chest, atMs + one * beat + noise(11), 190 + noise(25));
    if (cycle % 11 !== 7) press(input.airway, atMs + 3 * beat + 20 + noise(22), 400 + noise(40));
    atMs += 4 * beat + noise(16);
  }
  return edges.sort((one, other) => one.atMs - other.atMs);
}

/** Whole tenths of a millisecond, so that a sum of two needs no more decimals than the page has. */
function round(ms: number): number {
  return Math.round(ms * 10) / 10;
}

function mulberry32(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let value = Math.imul(state ^ (state >>> 15), 1 | state);
    value = (value + Math.imul(value ^ (value >>> 7), 61 | value)) ^ value;
    return ((value ^ (value >>> 14)) >>> 0) / 4_294_967_296;
  };
}
