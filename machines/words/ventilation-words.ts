import { GUIDELINES, type Guideline, guidelineOf, type Sourced } from '../pattern.ts';
import type { Figure } from '../scoring/figure.ts';
import type { BackReport, VentilationStageReport } from '../scoring/ventilation-stage.ts';
import { STANDING_WORDS } from './english.ts';
import type { FigureLine } from './figure-table.ts';
import { formatClock, formatFigure, formatNumber } from './format.ts';

export const VENTILATION_WORDS = {
  title: 'Ventilation before compressions',
  note: 'Effective from the chest-rise tick on: what people say and tick is true to a second at best.',
  caption: 'From begin to the first check',
  back: 'Back to ventilation',
} as const;

const OURS = 'tool default';

/** The stage's figures, one a line, with what is wanted and whose number that is. */
export function ventilationLines(stage: VentilationStageReport, guidelineName: string): FigureLine[] {
  const guideline = guidelineOf(guidelineName);
  const { ventilateFirstSeconds, reassessSeconds, ventilationPerMin } = guideline ?? GUIDELINES['us-style'];
  const [low, high] = ventilationPerMin.value;
  const rate = { ideal: low === high ? `${low}` : `${low} to ${high}`, source: wordsOf(ventilationPerMin) };
  const unknown = { ideal: 'as your course has it', source: OURS };
  const own = (wanted: { ideal: string; source: string }) => (guideline === null ? unknown : wanted);
  return [
    line('Breaths', stage.breaths, (n) => formatNumber(n, 0), { ideal: '–', source: '–' }),
    // Inflations are slower: with them the rate of all breaths has no ideal.
    line(
      'Breaths a minute',
      stage.breathsPerMin,
      (n) => formatNumber(n, 1),
      own(stage.inflations === null ? rate : { ideal: '–', source: '–' }),
    ),
    ...inflationLines(stage, guideline, rate),
    line(
      'Effective ventilation',
      stage.effectiveMs,
      (ms) => `${seconds(ms)}${stage.effectiveBy === 'observer' ? ', as an observer ticked' : ''}`,
      own({ ideal: `${ventilateFirstSeconds.value} s or more`, source: wordsOf(ventilateFirstSeconds) }),
    ),
    {
      label: 'Under 60 was the last announced',
      ...(typeof stage.beganUnder60 === 'boolean'
        ? { value: stage.beganUnder60 ? 'yes' : 'no' }
        : { value: 'not judged', reason: stage.beganUnder60.reason }),
      ideal: 'yes',
      source: guideline === null ? OURS : wordsOf(guideline.startBelowBpm),
    },
    line('Announced to first compression', stage.announcedToFirstMs, seconds, {
      ideal: 'short',
      source: OURS,
    }),
    line(
      'First compression to first check',
      stage.firstCheckAfterMs,
      seconds,
      own({ ideal: `${reassessSeconds.value} s`, source: wordsOf(reassessSeconds) }),
    ),
    line(
      'Compressions after 60 or more',
      stage.compressionsAfter60,
      (n) =>
        n === 0 ? 'none but the triplet’s rest' : `${formatNumber(n, 0)}, over ${seconds(stage.after60Ms)}`,
      { ideal: 'none but the triplet’s rest', source: OURS },
    ),
  ];
}

/** "2:31 to 3:02: 21 breaths, 40 a minute". */
export function backSentence({ startMs, endMs, breaths, breathsPerMin }: BackReport): string {
  const until = typeof endMs === 'number' ? formatClock(endMs) : 'the end';
  const rate = typeof breathsPerMin === 'number' ? `, ${formatNumber(breathsPerMin, 0)} a minute` : '';
  return `${formatClock(startMs)} to ${until}: ${breaths} ${breaths === 1 ? 'breath' : 'breaths'}${rate}`;
}

function inflationLines(
  { inflations }: VentilationStageReport,
  guideline: Guideline | null,
  rate: { ideal: string; source: string },
): FigureLine[] {
  const wanted = guideline?.inflations;
  if (inflations === null || !wanted) return [];
  const [least, most] = wanted.value.seconds;
  const lengths = inflations.lengthsMs.map((ms) =>
    typeof ms === 'number' ? formatNumber(ms / 1000, 1) : '–',
  );
  return [
    line(
      `Inflations of ${least} to ${most} s`,
      inflations.inRange,
      (n) => `${n} of ${lengths.length}: ${lengths.join(', ')} s`,
      { ideal: `${wanted.value.count}`, source: wordsOf(wanted) },
    ),
    line('Breaths a minute after them', inflations.breathsPerMinAfter, (n) => formatNumber(n, 1), rate),
  ];
}

function line(
  label: string,
  figure: Figure,
  text: (value: number) => string,
  wanted: { ideal: string; source: string },
): FigureLine {
  return typeof figure === 'number'
    ? { label, value: text(figure), ...wanted }
    : { label, value: formatFigure(figure, 0), reason: figure.reason, ...wanted };
}

/** To the second: people announce and tick. */
function seconds(figure: Figure): string {
  return typeof figure === 'number' ? `${formatNumber(figure / 1000, 0)} s` : formatFigure(figure, 0);
}

/** A number nobody has read in its source is never called the guideline's. */
function wordsOf({ standing }: Sourced<unknown>): string {
  if (standing === 'memory') return STANDING_WORDS.memory;
  return standing === 'read' ? 'guideline' : 'guideline, second-hand';
}
