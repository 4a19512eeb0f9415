import type { ChartContext } from '../drill-events.ts';
import type { Rig } from '../journal.ts';
import { guidelineOf } from '../pattern.ts';
import type { LiveVentilation } from '../scoring/ventilation-stage.ts';
import type { Ms } from '../units.ts';
import { STANDING_WORDS } from './english.ts';
import { formatNumber } from './format.ts';

/** Times move on in steps: the screen is to be still. */
const STEP_MS: Ms = 5000;

export type SequenceSituation = {
  stage: string;
  context: Pick<ChartContext, 'compressingSinceMs'>;
  /** Null in a drill that did not begin with ventilation: it has no notes. */
  ventilation: LiveVentilation | null;
  guideline: string;
  /** A rhythm rig has no ticks, and so no word of them. */
  rig: Rig;
  nowMs: Ms;
};

/**
 * What the instructor of a whole sequence needs to know now: how the ventilation before compressions goes, and when the
 * preset has the next check, with how far its number was verified. An interval comes from the preset, never from here.
 */
export function sequenceNotes({
  stage,
  context,
  ventilation,
  guideline,
  rig,
  nowMs,
}: SequenceSituation): string[] {
  if (ventilation === null) return [];
  if (context.compressingSinceMs === null)
    return stage === 'notBegun' ? [] : ventilationNotes(ventilation, rig, nowMs);
  if (stage !== 'compressing') return [];
  const preset = guidelineOf(guideline);
  if (preset === null) return [];
  const { value, standing } = preset.reassessSeconds;
  const source = standing === 'read' ? '' : ` (${STANDING_WORDS[standing]})`;
  const isDue = nowMs - context.compressingSinceMs >= value * 1000;
  return [`${isDue ? 'A check is due' : 'Next check'}: ${value} s after compressions began${source}.`];
}

function ventilationNotes(
  { breaths, breathsPerMin, effectiveFromMs }: LiveVentilation,
  rig: Rig,
  nowMs: Ms,
): string[] {
  const rate = typeof breathsPerMin === 'number' ? `, ${formatNumber(breathsPerMin, 0)} a minute` : '';
  const given = `${breaths} ${breaths === 1 ? 'breath' : 'breaths'}${rate}`;
  if (rig === 'rhythm') return [`${given}.`];
  if (effectiveFromMs === null) return [`${given}; effective once “Chest rises” is ticked.`];
  const ms = Math.max(0, nowMs - effectiveFromMs);
  return [`${given}; effective for ${formatNumber((ms - (ms % STEP_MS)) / 1000, 0)} s.`];
}
