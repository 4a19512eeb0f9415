import type { CallName } from '../journal.ts';
import { nextLogNormal, nextUniform, type RandomState } from '../statistics/random.ts';
import type { Ms, Share } from '../units.ts';

/**
 * How a handover goes: `ordinary` with a pause that can be seen, `slow` with a long one, `seamless` with none.
 */
export type HandoverKind = 'ordinary' | 'slow' | 'seamless';

/**
 * How the pair changes hands. No published duration of a swap in newborn resuscitation was found; general teaching is under 5 s
 * (check file, section 2 [2]). All figures are tool defaults: medians of a lognormal pause from the last release to the first new press.
 */
export type HandoverModel = {
  swapPauseMs: Ms;
  techniquePauseMs: Ms;
  stancePauseMs: Ms;
  slowPauseMs: Ms;
  /** Sd of the natural logarithm of every pause: 0.3 puts two in three swaps between 2.2 and 4.1 s. */
  pauseSigma: number;
  slowRate: Share;
  seamlessRate: Share;
  /** Person binding: chance that the old compressor goes on for two presses more. */
  strayRate: Share;
  /** Chance that the instructor calls `taken`. */
  takenRate: Share;
  /** What the first, second … handover is like, whatever the rates; those beyond the list come by chance. */
  kinds: readonly HandoverKind[];
};

export const DEFAULT_HANDOVERS: HandoverModel = {
  swapPauseMs: 3000,
  techniquePauseMs: 2000,
  stancePauseMs: 4000,
  slowPauseMs: 9000,
  pauseSigma: 0.3,
  slowRate: 0.08,
  seamlessRate: 0.05,
  strayRate: 0.3,
  takenRate: 0,
  kinds: [],
};

/** The kind of the handover that is `place`-th in the drill (from 0). */
export function pickKind(model: HandoverModel, place: number, random: RandomState): HandoverKind {
  const chance = nextUniform(random);
  const given = model.kinds[place];
  if (given !== undefined) return given;
  if (chance < model.slowRate) return 'slow';
  return chance < model.slowRate + model.seamlessRate ? 'seamless' : 'ordinary';
}

/**
 * Length in ms of the pause that a call asks for, from the last release: 0 when seamless, else long enough
 * that the gap between compressions exceeds 0.65 of a cycle and the rule of design section 5 can see it.
 */
export function drawPause(
  model: HandoverModel,
  kind: HandoverKind,
  reason: CallName,
  cycleMs: Ms,
  random: RandomState,
): Ms {
  const usual =
    reason === 'swap'
      ? model.swapPauseMs
      : reason === 'stance'
        ? model.stancePauseMs
        : model.techniquePauseMs;
  const pause = nextLogNormal(random, kind === 'slow' ? model.slowPauseMs : usual, model.pauseSigma);
  return kind === 'seamless' ? 0 : Math.max(pause, 0.65 * cycleMs);
}
