import type { Guideline, GuidelineName, Sourced } from '../pattern.ts';
import { STANDING_WORDS, TECHNIQUE_WORDS } from './english.ts';

export const GUIDELINE_WORDS: Record<GuidelineName, string> = {
  'us-style': 'US-style',
  'uk-european-style': 'UK/European-style',
};

/** One number of a preset. `label` stands beside the value when the source itself was not read. */
export type GuidelineLine = {
  name: string;
  value: string;
  label: string | null;
  source: string;
  standing: string;
};

/** Every number of a preset with where it is from and how far that was checked. */
export function guidelineTable(guideline: Guideline): GuidelineLine[] {
  const [low, high] = guideline.ventilationPerMin.value;
  return [
    line('Compressions to breaths', guideline.ratio, guideline.ratio.value),
    line('Compressions', guideline.compressionsPerMin, `${guideline.compressionsPerMin.value} a minute`),
    line('Breaths among them', guideline.breathsPerMin, `${guideline.breathsPerMin.value} a minute`),
    line(
      'Compress while the heart rate is under',
      guideline.startBelowBpm,
      `${guideline.startBelowBpm.value} a minute`,
    ),
    line(
      'Effective ventilation first',
      guideline.ventilateFirstSeconds,
      `${guideline.ventilateFirstSeconds.value} s`,
    ),
    line('Check the heart rate every', guideline.reassessSeconds, `${guideline.reassessSeconds.value} s`),
    line(
      'Breaths while only ventilating',
      guideline.ventilationPerMin,
      low === high ? `${low} a minute` : `${low} to ${high} a minute`,
    ),
    ...inflationLine(guideline),
    line('Technique', guideline.technique, TECHNIQUE_WORDS[guideline.technique.value]),
    line('Depth, of the chest’s front-to-back diameter', guideline.depthShare, guideline.depthShare.value),
  ];
}

function inflationLine({ inflations }: Guideline): GuidelineLine[] {
  if (inflations === null) return [];
  const { count, seconds } = inflations.value;
  return [line('The first breaths', inflations, `${count}, each of ${seconds.join(' to ')} s`)];
}

function line(name: string, { source, standing }: Sourced<unknown>, value: string): GuidelineLine {
  const words = STANDING_WORDS[standing];
  return {
    name,
    value,
    label: standing === 'read' ? null : (words.split(':')[0] ?? words),
    source,
    standing: words,
  };
}
