import type { Ms } from '../units.ts';
import { BEAT_KINDS } from './beats.ts';

/** Whole samples of an audio context's clock, counted from its start. */
export type Frame = number;
/** Beats on an audio clock: frame of the first "one", nominal cycle in ms, samples a second. */
export type SampleGrid = { oneFrame: Frame; cycleMs: Ms; sampleRate: number };

/**
 * The frame of a place in the count, in beats after the first "one" (0.5 is the "and" after it). Rounded once from the
 * anchor, so half a sample is the most that any beat is off, however late it comes.
 */
export function frameOfBeat({ oneFrame, cycleMs, sampleRate }: SampleGrid, beats: number): Frame {
  return oneFrame + Math.round((beats * cycleMs * sampleRate) / (BEAT_KINDS.length * 1000));
}

/** The first cycle (0 is the grid's own first) whose "one" is at or after a frame. */
export function cycleAtOrAfter(grid: SampleGrid, frame: Frame): number {
  const framesPerCycle = (grid.cycleMs * grid.sampleRate) / 1000;
  let cycle = Math.max(0, Math.floor((frame - grid.oneFrame) / framesPerCycle));
  while (frameOfBeat(grid, cycle * BEAT_KINDS.length) < frame) cycle += 1;
  return cycle;
}
