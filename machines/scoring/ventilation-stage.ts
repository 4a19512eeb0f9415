import type { Rig, TickLine } from '../journal.ts';
import { COMPRESS_BELOW_BPM, type Guideline, VENTILATE_FIRST_MS } from '../pattern.ts';
import type { Press } from '../presses.ts';
import { type Ms, toMs, type Us } from '../units.ts';
import { type Figure, figure, type NoFigure, none } from './figure.ts';
import type { Breaths, VentilationWatch } from './ventilation-watch.ts';

/** Five first breaths of 2 to 3 s, for the preset that begins with them. */
export type InflationsReport = {
  /** Lengths of the first five breaths in ms; fewer where there were fewer. */
  lengthsMs: readonly Figure[];
  /** How many of them were as long as the preset wants, its limits included. */
  inRange: Figure;
  /** The breaths after them. */
  breathsPerMinAfter: Figure;
};

/** From `checked`, with a heart rate of 60 or more as the last announced, to the next compression. */
export type BackReport = { startMs: Ms; endMs: Figure; breaths: number; breathsPerMin: Figure };

/**
 * Ventilation before compressions, in a drill whose `begin` says so (design section 5). Times in ms on the drill's
 * clock; a figure is a number, or null with its reason.
 */
export type VentilationStageReport = {
  /** The first breath after begin, and the first compression. */
  startMs: Figure;
  endMs: Figure;
  breaths: number;
  /** (n − 1) ÷ (last − first onset) × 60 000, from two breaths. */
  breathsPerMin: Figure;
  /**
   * From the tick `chest-rise` met (or the first breath, when that came later) to the first compression; without one,
   * to the last breath's release. A later tick against it ends it. Ticks are people's: to the second at best.
   */
  effectiveMs: Figure;
  effectiveBy: TickLine['by'] | NoFigure;
  /** Was that 30 s or more? */
  isLongEnough: boolean | NoFigure;
  /** The last heart rate announced in the stage, beats a minute. */
  announcedBpm: Figure;
  /** Was a heart rate under 60 the last announced when compressions began, and how long before? */
  beganUnder60: boolean | NoFigure;
  announcedToFirstMs: Figure;
  /** Compressions' start to the first check after it. */
  firstCheckAfterMs: Figure;
  /** Compressions made while 60 or more was the last announced, the triplet's rest left out, and how long they went on. */
  compressionsAfter60: Figure;
  after60Ms: Figure;
  inflations: InflationsReport | null;
  backToVentilation: readonly BackReport[];
};

/** Why no ventilation is called effective. */
export const CHEST_UNMOVED = 'the chest was seen not to rise';
export const CHEST_UNSEEN = 'not judged';

/** The stage's figures; null when the drill did not begin with ventilation. Call once the journal has ended. */
export function ventilationStageOf(
  watch: VentilationWatch,
  { rig, guideline }: { rig: Rig; guideline: Guideline | null },
): VentilationStageReport | null {
  if (!watch.isWanted) return null;
  const { breaths, firstCompressionUs, after60 } = watch;
  const effectiveMs = effectiveOf(watch, rig);
  const isAnnounced = <T>(value: T) => (after60.isAnnounced ? value : none('60 or more was not announced'));
  return {
    startMs: msOf(breaths?.firstUs ?? null, 'no breath'),
    endMs: msOf(firstCompressionUs, 'no compression'),
    breaths: breaths?.count ?? 0,
    breathsPerMin: perMinOf(breaths),
    effectiveMs,
    effectiveBy:
      typeof effectiveMs === 'number' && watch.chestRise ? watch.chestRise.by : reasonIn(effectiveMs),
    isLongEnough: typeof effectiveMs === 'number' ? effectiveMs >= VENTILATE_FIRST_MS : effectiveMs,
    announcedBpm: figure(watch.lastRate?.bpm ?? null, 'no heart rate was announced in it'),
    ...startOf(watch),
    firstCheckAfterMs: firstCheckAfter(watch),
    compressionsAfter60: isAnnounced(after60.compressions),
    after60Ms: isAnnounced(toMs(after60.us)),
    inflations: inflationsOf(watch, guideline),
    backToVentilation: watch.back.map(({ fromUs, untilUs, breaths: again }) => ({
      startMs: toMs(fromUs),
      endMs: msOf(untilUs, 'no compression after it'),
      breaths: again?.count ?? 0,
      breathsPerMin: perMinOf(again),
    })),
  };
}

/** What the instructor sees of the stage while it lasts. Times in ms on the drill's clock. */
export type LiveVentilation = {
  breaths: number;
  breathsPerMin: Figure;
  /** Since when the ventilation has been effective; null while that is not judged. */
  effectiveFromMs: Ms | null;
};

export function liveVentilationOf({ breaths, chestRise }: VentilationWatch): LiveVentilation {
  return {
    breaths: breaths?.count ?? 0,
    breathsPerMin: perMinOf(breaths),
    effectiveFromMs:
      breaths === null || chestRise === null ? null : toMs(Math.max(chestRise.atUs, breaths.firstUs)),
  };
}

function effectiveOf(watch: VentilationWatch, rig: Rig): Figure {
  const { breaths, chestRise, lastBreath, firstCompressionUs } = watch;
  if (rig === 'rhythm') return none('not judged: a rhythm rig has no ticks');
  if (breaths === null || lastBreath === null) return none('no breath');
  if (chestRise === null) return none(watch.isChestUnmoved ? CHEST_UNMOVED : CHEST_UNSEEN);
  const untilUs = firstCompressionUs ?? lastBreath.offUs;
  return toMs(Math.max(0, untilUs - Math.max(chestRise.atUs, breaths.firstUs)));
}

function startOf({
  firstCompressionUs,
  rateAtFirst,
}: VentilationWatch): Pick<VentilationStageReport, 'beganUnder60' | 'announcedToFirstMs'> {
  const no = (reason: string) => ({ beganUnder60: none(reason), announcedToFirstMs: none(reason) });
  if (firstCompressionUs === null) return no('no compression');
  if (rateAtFirst === null) return no('no heart rate was announced before it');
  const beganUnder60 = rateAtFirst.bpm < COMPRESS_BELOW_BPM;
  return {
    beganUnder60,
    announcedToFirstMs: beganUnder60
      ? toMs(Math.max(0, firstCompressionUs - rateAtFirst.atUs))
      : none('60 or more was the last announced'),
  };
}

function firstCheckAfter({ firstCompressionUs, firstCheckUs }: VentilationWatch): Figure {
  if (firstCompressionUs === null) return none('no compression');
  return firstCheckUs === null ? none('no check after it') : toMs(firstCheckUs - firstCompressionUs);
}

function inflationsOf(watch: VentilationWatch, guideline: Guideline | null): InflationsReport | null {
  const wanted = guideline?.inflations ?? null;
  if (wanted === null) return null;
  const [leastS, mostS] = wanted.value.seconds;
  const lengthsMs = watch.firstBreaths.map(lengthOf);
  const inRange = lengthsMs.filter(
    (length) => typeof length === 'number' && length >= 1000 * leastS && length <= 1000 * mostS,
  );
  return {
    lengthsMs,
    inRange: lengthsMs.length === 0 ? none('no breath') : inRange.length,
    breathsPerMinAfter: perMinOf(watch.laterBreaths),
  };
}

function lengthOf({ isMeasured, offUs, onUs }: Press): Figure {
  return isMeasured ? toMs(offUs - onUs) : none('its release was not seen');
}

function perMinOf(breaths: Breaths | null): Figure {
  if (breaths === null || breaths.count < 2) return none('under two breaths');
  return figure(
    ((breaths.count - 1) * 60_000_000) / (breaths.lastUs - breaths.firstUs),
    'no time between them',
  );
}

function msOf(atUs: Us | null, reason: string): Figure {
  return atUs === null ? none(reason) : toMs(atUs);
}

function reasonIn(value: Figure): NoFigure {
  return typeof value === 'number' ? none('not judged') : value;
}
