import {
  type Binding,
  type Guidance,
  type OpenLine,
  type Rig,
  switchesOf,
  type Technique,
} from '../journal.ts';
import { nextUint32, seedRandom } from '../statistics/random.ts';
import type { Ms } from '../units.ts';

/** What may be chosen of an invented drill's open line; `seed` makes the id when none is given, `stepMs` is the switches' step. */
export type OpenLineOptions = {
  seed: number;
  stepMs: Ms;
  id?: string;
  openedAt?: string;
  people?: OpenLine['people'];
  rig?: Rig;
  binding?: Binding;
  guidance?: Guidance;
  technique?: Technique;
  cycleMs?: Ms;
  plan?: OpenLine['plan'];
};

const INVENTED_PEOPLE = { A: 'Ada', B: 'Ben' } as const;
const FIXED_MORNING = '2026-03-02T09:30:00.000Z';
const ID_STREAM = 6;

/** The open line of an invented drill. Throws a RangeError on a person binding with a manikin rig, which no journal may have. */
export function openLineOf(options: OpenLineOptions): OpenLine {
  const { binding = 'place', stepMs } = options;
  const rig = options.rig ?? (binding === 'person' ? 'rhythm' : 'manikin');
  if (binding === 'person' && rig === 'manikin') throw new RangeError('a person binding needs a rhythm rig');
  return {
    kind: 'open',
    version: 1,
    id: options.id ?? idOf(options.seed),
    openedAt: options.openedAt ?? FIXED_MORNING,
    pattern: 'newborn-3-1',
    guideline: 'us-style',
    rig,
    airway: 'mask',
    binding,
    tolerance: 'standard',
    cycleMs: options.cycleMs ?? 2000,
    bounceMs: 25,
    sources: Object.fromEntries(switchesOf(binding).map((name) => [name, { kind: 'synthetic', stepMs }])),
    people: options.people ?? INVENTED_PEOPLE,
    roles: { compressor: 'A', ventilator: 'B' },
    technique: options.technique ?? 'two-thumb',
    stance: 'foot-end',
    guidance: options.guidance ?? 'unled',
    ...(options.plan === undefined ? {} : { plan: options.plan }),
  };
}

/** A version 4 UUID made of the seed's own stream. */
function idOf(seed: number): string {
  const random = seedRandom(seed, ID_STREAM);
  const hex = Array.from({ length: 4 }, () => nextUint32(random).toString(16).padStart(8, '0')).join('');
  const variant = '89ab'.charAt(Number.parseInt(hex.charAt(16), 16) % 4);
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-4${hex.slice(13, 16)}-${variant}${hex.slice(17, 20)}-${hex.slice(20)}`;
}
