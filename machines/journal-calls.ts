import * as v from 'valibot';
import { BEAT_KINDS } from './count/beats.ts';
import { atMs, between, cycleMs, oneOf } from './journal-fields.ts';
import { AIRWAYS, COUNT_SENSES, GUIDANCES, HEART_RATE_WAYS, STANCES, TECHNIQUES } from './vocabulary.ts';

/** The lines that have several forms under one kind: calls, and what the count did. */

const call = <const Name extends string, E extends v.ObjectEntries>(name: Name, entries: E) =>
  v.object({ kind: v.literal('call'), at: atMs, call: v.literal(name), ...entries });

/** One entry a call; those without entries say all by their name. */
export const callSchemas = {
  begin: call('begin', { stage: v.optional(v.literal('ventilation', 'is not ventilation')) }),
  swap: call('swap', {}),
  taken: call('taken', {}),
  technique: call('technique', { technique: oneOf(TECHNIQUES) }),
  stance: call('stance', { stance: oneOf(STANCES) }),
  airway: call('airway', { airway: oneOf(AIRWAYS) }),
  guidance: call('guidance', { guidance: oneOf(GUIDANCES) }),
  tempo: call('tempo', { cycleMs }),
  /** `given` absent: by voice. */
  'heart-rate': call('heart-rate', {
    bpm: between(0, 300, 'beats a minute'),
    given: v.optional(oneOf(HEART_RATE_WAYS)),
  }),
  check: call('check', {}),
  checked: call('checked', {}),
  rest: call('rest', {}),
  resume: call('resume', {}),
  undo: call('undo', {}),
  finish: call('finish', {}),
};

/**
 * Where the count stood, so that the time of every beat can be computed. `at` only gives such a line its place
 * among the others; it is the time of the line before. Beats are at the drill's times in `fromMs` and `cycleMs`.
 */
const count = <const What extends string, E extends v.ObjectEntries>(what: What, entries: E) =>
  v.object({ kind: v.literal('count'), at: atMs, what: v.literal(what), ...entries });

export const countSchemas = {
  /** From this beat on, which may be still to come, at this period: a start, another tempo, or a closer reading. */
  given: count('given', {
    by: oneOf(COUNT_SENSES),
    fromMs: atMs,
    beat: oneOf(BEAT_KINDS),
    /** As measured on the drill's clock: the nominal length but for the drift of the two clocks. */
    cycleMs,
    /** What the browser reported, and what is in `fromMs` already; null where it did not say, or nothing is heard. */
    outputLatencyMs: v.nullable(between(0, 60_000, 'ms')),
    /** Half the width of the 95 % interval of `fromMs`; a latency reported wrongly is not in it. */
    errorMs: v.nullable(between(0, 60_000, 'ms')),
  }),
  /** The last beat that was given, or null where none was. */
  stopped: count('stopped', { lastMs: v.nullable(atMs) }),
};
