import type { OpenLine, Person, Switch } from '../journal.ts';
import type { Ms } from '../units.ts';

/** What the switches add to the times of the one who compresses and the one who ventilates. */
export type Instrument = {
  compressorStepMs: Ms;
  ventilatorStepMs: Ms;
  /** 95 % of the error of the offset that was taken out; 0 when none was: a figure then carries the offset itself. */
  offsetErrorMs: Ms;
};

/**
 * The instrument of a drill's bouts. With a switch for each person and bouts of both ways round,
 * the coarser step stands for both roles.
 */
export function instrumentOf(open: OpenLine, compressors: readonly Person[]): Instrument {
  const stepOf = (name: Switch) => open.sources[name]?.stepMs ?? 0;
  const offsetErrorMs = open.switchOffset?.applied === true ? open.switchOffset.errorMs : 0;
  if (open.binding === 'place')
    return { compressorStepMs: stepOf('chest'), ventilatorStepMs: stepOf('airway'), offsetErrorMs };
  const [first] = compressors;
  if (first !== undefined && compressors.every((person) => person === first)) {
    const other = first === 'A' ? 'B' : 'A';
    return { compressorStepMs: stepOf(first), ventilatorStepMs: stepOf(other), offsetErrorMs };
  }
  const coarser = Math.max(stepOf('A'), stepOf('B'));
  return { compressorStepMs: coarser, ventilatorStepMs: coarser, offsetErrorMs };
}
