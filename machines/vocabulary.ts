/** The design's words that stand in files: journals and plans name things by these and no others. */

export const PERSONS = ['A', 'B'] as const;
export const TECHNIQUES = ['two-thumb', 'two-finger'] as const;
export const STANCES = ['foot-end', 'head-end', 'side'] as const;
export const GUIDANCES = ['led', 'weaned', 'unled'] as const;
export const RIGS = ['manikin', 'rhythm'] as const;
export const BINDINGS = ['place', 'person'] as const;
export const AIRWAYS = ['mask', 'secured'] as const;
export const TOLERANCES = ['standard', 'first'] as const;
/** How a count is given: played, or (for who cannot hear it, or must be silent) only shown. */
export const COUNT_SENSES = ['sound', 'sight'] as const;

export type Person = (typeof PERSONS)[number];
export type Technique = (typeof TECHNIQUES)[number];
export type Stance = (typeof STANCES)[number];
export type Guidance = (typeof GUIDANCES)[number];
export type Rig = (typeof RIGS)[number];
export type Binding = (typeof BINDINGS)[number];
export type Airway = (typeof AIRWAYS)[number];
export type Tolerance = (typeof TOLERANCES)[number];
export type CountSense = (typeof COUNT_SENSES)[number];
/** How a heart rate is given: said aloud by the instructor, shown on the learners' view, or tapped to the ear. */
export const HEART_RATE_WAYS = ['voice', 'sight', 'taps'] as const;
export type HeartRateWay = (typeof HEART_RATE_WAYS)[number];
/** What an instructor signs against the course's standard. The tool never says "pass". */
export const DECISIONS = ['met', 'not yet', 'not assessed'] as const;
export type Decision = (typeof DECISIONS)[number];
