import { COMPRESS_BELOW_BPM, VENTILATE_FIRST_MS } from '../pattern.ts';
import { numberOf } from '../scoring/figure.ts';
import { CHEST_UNMOVED, CHEST_UNSEEN, type VentilationStageReport } from '../scoring/ventilation-stage.ts';
import { formatNumber } from './format.ts';

/** A drill of ventilation in which nobody compressed. */

const WANTED = `${formatNumber(VENTILATE_FIRST_MS / 1000, 0)} s`;

/** The headline of such a drill; null where there was no breath either. */
export function ventilationHeadline(stage: VentilationStageReport): string | null {
  if (stage.breaths === 0) return null;
  const perMin = numberOf(stage.breathsPerMin);
  const rate = perMin === null ? '' : `, ${formatNumber(perMin, 0)} a minute`;
  const breaths = `${formatNumber(stage.breaths, 0)} ${stage.breaths === 1 ? 'breath' : 'breaths'}${rate}, and no compression`;
  return `Timing only: ventilation alone, ${breaths}. ${announcedWords(stage)}`;
}

function announcedWords({ announcedBpm }: VentilationStageReport): string {
  const bpm = numberOf(announcedBpm);
  if (bpm === null) return 'No heart rate was announced.';
  const last = `The last heart rate announced was ${formatNumber(bpm, 0)}`;
  return bpm < COMPRESS_BELOW_BPM
    ? `${last}: after ${WANTED} of effective ventilation, compressions are wanted under ${COMPRESS_BELOW_BPM}.`
    : `${last}, so that none was wanted.`;
}

/** What to do next after it: what the chest did comes before anything else. */
export function ventilationNext({ effectiveMs, announcedBpm }: VentilationStageReport): string {
  const bpm = numberOf(announcedBpm);
  const effective = numberOf(effectiveMs);
  const reason = typeof effectiveMs === 'number' ? null : effectiveMs.reason;
  if (reason === CHEST_UNMOVED)
    return 'Ventilate once more, and put right what keeps the chest from rising before anything else.';
  if (reason === CHEST_UNSEEN)
    return `Ventilate once more for ${WANTED}, with your instructor watching the chest rise.`;
  if (bpm === null) return `Ventilate once more, and ask for the heart rate after ${WANTED}.`;
  if (bpm >= COMPRESS_BELOW_BPM)
    return 'Once more from the start, and this time with a heart rate that calls for compressions.';
  return effective !== null && effective < VENTILATE_FIRST_MS
    ? `Once more, with ${WANTED} of effective ventilation before the heart rate is asked for.`
    : `Once more from the start, and compress when under ${COMPRESS_BELOW_BPM} is announced.`;
}
