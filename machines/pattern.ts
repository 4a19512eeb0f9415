/**
 * The pattern practised and the guideline presets. Every number has its source and how far we verified it;
 * numbers that are ours are tool defaults and live beside the rule that uses them.
 */

/** How far a value was verified: `read` in the source itself, `second-hand` in a text that restates it, `memory` not verified. */
export type Standing = 'read' | 'second-hand' | 'memory';
export type Sourced<T> = { value: T; source: string; standing: Standing };

export type GuidelineName = 'us-style' | 'uk-european-style';
export type Guideline = {
  name: GuidelineName;
  /** Compressions to breaths in a cycle. */
  ratio: Sourced<'3:1'>;
  compressionsPerMin: Sourced<90>;
  breathsPerMin: Sourced<30>;
  /** Compressions begin while the heart rate stays under this, in beats a minute … */
  startBelowBpm: Sourced<60>;
  /** … after so many seconds of effective ventilation. */
  ventilateFirstSeconds: Sourced<30>;
  /** Time between heart-rate checks during compressions, in seconds. */
  reassessSeconds: Sourced<number>;
  /** Breaths a minute while only ventilating: lowest and highest. */
  ventilationPerMin: Sourced<readonly [number, number]>;
  /** The first breaths of all, longer than the rest, where the preset begins with them: how many, and seconds from and to. */
  inflations: Sourced<{ count: 5; seconds: readonly [number, number] }> | null;
  technique: Sourced<'two-thumb'>;
  /** Part of the chest's front-to-back diameter. No switch of ours measures it. */
  depthShare: Sourced<'one third'>;
};

const SCOPING_REVIEW =
  'Ramachandran et al., ILCOR Neonatal Life Support Task Force scoping review, Arch Dis Child Fetal Neonatal Ed 2023;108(5):442, abstract';
const SOLEVAG = 'Solevåg et al., Scand J Trauma Resusc Emerg Med 2012;20:73, abstract';
const RCUK_FAQ = 'Resuscitation Council UK, FAQs: newborn life support, reviewed January 2023';
const AHA10 =
  'Kattwinkel et al., Circulation 2010;122(18 suppl 3):S909-S919, as restated on health web pages';
const TEXTBOOK = 'AAP/AHA Textbook of Neonatal Resuscitation, 8th ed.';

/** The same in both presets. */
const shared = {
  ratio: { value: '3:1', source: SCOPING_REVIEW, standing: 'read' },
  compressionsPerMin: { value: 90, source: SOLEVAG, standing: 'read' },
  breathsPerMin: { value: 30, source: SOLEVAG, standing: 'read' },
  technique: { value: 'two-thumb', source: SCOPING_REVIEW, standing: 'read' },
  depthShare: { value: 'one third', source: AHA10, standing: 'second-hand' },
} as const;

export const GUIDELINES: Record<GuidelineName, Guideline> = {
  'us-style': {
    name: 'us-style',
    ...shared,
    startBelowBpm: { value: 60, source: SCOPING_REVIEW, standing: 'read' },
    ventilateFirstSeconds: {
      value: 30,
      source:
        'teaching pages after the 2020 American guideline (Aziz et al., Circulation 2020;142(16 suppl 2):S524-S550)',
      standing: 'second-hand',
    },
    reassessSeconds: { value: 60, source: TEXTBOOK, standing: 'memory' },
    ventilationPerMin: {
      value: [40, 60],
      source: 'a family-medicine review of the 2010 American guideline, as restated on a web page',
      standing: 'second-hand',
    },
    inflations: null,
  },
  'uk-european-style': {
    name: 'uk-european-style',
    ...shared,
    startBelowBpm: { value: 60, source: RCUK_FAQ, standing: 'read' },
    ventilateFirstSeconds: { value: 30, source: RCUK_FAQ, standing: 'read' },
    reassessSeconds: { value: 30, source: RCUK_FAQ, standing: 'read' },
    ventilationPerMin: {
      value: [30, 30],
      source: 'ERC 2021 and RCUK 2021 newborn guidelines, from a copy of the UK wording',
      standing: 'second-hand',
    },
    inflations: {
      value: { count: 5, seconds: [2, 3] },
      source: 'a student’s web summary of the Resuscitation Council UK’s newborn guideline of 2025',
      standing: 'second-hand',
    },
  },
};

/** The preset of a journal's guideline, or null when it is not one of ours. */
export function guidelineOf(name: string): Guideline | null {
  return Object.hasOwn(GUIDELINES, name) ? GUIDELINES[name as GuidelineName] : null;
}

/** Compress while the heart rate is under this, in beats a minute: `startBelowBpm` of every preset. */
export const COMPRESS_BELOW_BPM = 60;
/** Effective ventilation before compressions: `ventilateFirstSeconds` of every preset. */
export const VENTILATE_FIRST_MS = 30_000;

/** The cycle's ideal length: 60 000 ms by 30 cycles a minute (90 compressions and 30 breaths, see above). */
export const CYCLE_MS = 2000;
/** Two thirds of that tempo, for first contact (tool default): it stands in no headline. */
export const SLOW_CYCLE_MS = 3000;
