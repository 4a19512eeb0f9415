import type { CountFigures } from '../scoring/count-figures.ts';
import type { Figure } from '../scoring/figure.ts';
import type { Figures, PaceChange, Spread } from '../scoring/figures.ts';
import type { ReportFigures } from '../scoring/report.ts';
import { ofCycles } from './english.ts';
import { formatFigure, formatNumber } from './format.ts';

/** One line of a figure table: what it is, what was measured, what would be ideal and whose number that is. */
export type FigureLine = { label: string; value: string; reason?: string; ideal: string; source: string };
export type FigureGroup = { title: string; lines: FigureLine[] };

const GUIDELINE = 'guideline';
const FOLLOWS = 'follows from the guideline’s rates';
const OURS = 'tool default';

/** Every figure of a bout, a role or a drill, with the ideal beside it, for the instructor. `cycleMs` is T. */
export function figureTable(figures: ReportFigures, cycleMs: number, pace?: PaceChange): FigureGroup[] {
  return [
    { title: 'The pair', lines: pairLines(figures, cycleMs, pace) },
    { title: 'Compressor', lines: compressorLines(figures, cycleMs) },
    { title: 'Ventilator', lines: ventilatorLines(figures, cycleMs) },
  ];
}

function pairLines(figures: Figures, cycleMs: number, pace: PaceChange | undefined): FigureLine[] {
  const perMin = 60_000 / cycleMs;
  const { cycles, clash, pauses } = figures;
  const lines: FigureLine[] = [
    line(
      'Coordinated',
      figures.coordinatedShare,
      () => ofCycles(cycles.coordinated, cycles.total),
      'all',
      OURS,
    ),
    line(
      'Three compressions and a breath',
      figures.coordinatedShare,
      () => ofCycles(cycles.exact, cycles.total),
      'all',
      GUIDELINE,
    ),
    line(
      'Compressions a minute',
      figures.compressionsPerMin,
      decimals(1),
      formatNumber(3 * perMin, 0),
      GUIDELINE,
    ),
    line('Breaths a minute', figures.breathsPerMin, decimals(1), formatNumber(perMin, 0), GUIDELINE),
    line('Cycle, median', figures.cycleMs.median, ms, `${cycleMs} ms`, FOLLOWS),
    line('Cycle, middle half spans', figures.cycleMs.iqr, ms, 'small', OURS),
    line('Cycle jitter', figures.cycleJitterMs, ms, 'small', OURS),
    spreadLine('Breath’s place in the cycle', figures.breathPhase, 3, '', '0.75', FOLLOWS),
    line('Clashes', clash.count, decimals(0), '0', GUIDELINE),
    line('… breath too soon', clash.byBreath, decimals(0), '0', OURS),
    line('… compression too soon', clash.byCompression, decimals(0), '0', OURS),
    line('Pauses', pauses.count, decimals(0), '0', OURS),
    line('Longest pause', pauses.longestMs, ms, '0 ms', OURS),
  ];
  if (pace) lines.push(paceLine(pace));
  return lines;
}

function compressorLines({ compressor, count }: ReportFigures, cycleMs: number): FigureLine[] {
  return [
    spreadLine('Interval inside the triplet', compressor.intervalMs, 0, ' ms', `${cycleMs / 4} ms`, FOLLOWS),
    line(
      'Pace inside the triplet',
      compressor.intervalMs.mean,
      (mean) => `${formatNumber(60_000 / mean, 0)} a minute`,
      `${formatNumber(240_000 / cycleMs, 0)} a minute`,
      FOLLOWS,
    ),
    line('Triplet jitter', compressor.tripletJitterMs, ms, 'small', OURS),
    spreadLine('Length of a compression', compressor.dwellMs, 0, ' ms', 'none', OURS),
    line('Let up for under 100 ms', compressor.shortReleases, decimals(0), 'look', OURS),
    asynchronyLine('Compression to its heard beat', count.asynchronyMs.compressor),
  ];
}

function ventilatorLines(figures: ReportFigures, cycleMs: number): FigureLine[] {
  const { ventilator, clash, count } = figures;
  return [
    spreadLine('Third compression to breath', figures.breathLagMs, 0, ' ms', `${cycleMs / 4} ms`, FOLLOWS),
    spreadLine('… by the triplet’s interval', figures.breathLagRatio, 2, '', '1', FOLLOWS),
    spreadLine('Breath to the next “one”', figures.restartLagMs, 0, ' ms', `${cycleMs / 4} ms`, FOLLOWS),
    spreadLine('Length of a squeeze', ventilator.dwellMs, 0, ' ms', 'none', OURS),
    line('Squeezed for under 200 ms', ventilator.shortSqueezes, decimals(0), 'look', OURS),
    line('Bag let go late', clash.letGoLate, decimals(0), '0', OURS),
    asynchronyLine('Breath to the heard “breathe”', count.asynchronyMs.ventilator),
  ];
}

/** "31 ms early (sd 22 ms, n 84)". */
function asynchronyLine(label: string, asynchrony: Spread): FigureLine {
  const text = (mean: number) =>
    `${formatNumber(Math.abs(mean), 0)} ms${earlyOrLate(mean)} (sd ${formatFigure(asynchrony.sd, 0, ' ms')}, n ${asynchrony.n})`;
  return line(label, asynchrony.mean, text, '0 ms, but for a loudspeaker’s own delay', OURS);
}

function earlyOrLate(ms: number): string {
  if (Math.round(ms) === 0) return '';
  return ms < 0 ? ' early' : ' late';
}

export const COUNT_TABLE_WORDS = {
  title: 'Does the rhythm survive silence?',
  figure: 'Figure',
  withCount: 'With the count',
  withoutCount: 'Without it',
  note: 'These two stretches differ by what stands here; one drill is too little to say why. A weaned count falls silent when the pair is steady, so the stretches are not alike to begin with. Cycles in which the count came or went, and a slow tempo, are in neither.',
} as const;

/** The pair with the count beside the same pair without it. */
export type CountLine = { label: string; withCount: string; withoutCount: string };

/** Does the rhythm survive silence? Null where there were no cycles of one of the two kinds. */
export function countTable({ withCount, withoutCount }: CountFigures): CountLine[] | null {
  if (withCount.cycles === 0 || withoutCount.cycles === 0) return null;
  const row = (label: string, text: (steadiness: CountFigures['withCount']) => string): CountLine => ({
    label,
    withCount: text(withCount),
    withoutCount: text(withoutCount),
  });
  return [
    row('Coordinated', ({ coordinated, cycles }) => ofCycles(coordinated, cycles)),
    row('Cycle, median', ({ cycleMs }) => formatFigure(cycleMs.median, 0, ' ms')),
    row('Cycle, middle half spans', ({ cycleMs }) => formatFigure(cycleMs.iqr, 0, ' ms')),
    row('Cycle jitter', ({ cycleJitterMs }) => formatFigure(cycleJitterMs, 0, ' ms')),
  ];
}

function paceLine(pace: PaceChange): FigureLine {
  return line(
    'Change of pace',
    pace.value,
    (value) => {
      const interval =
        typeof pace.low === 'number' && typeof pace.high === 'number'
          ? ` (${formatNumber(pace.low, 1)} to ${formatNumber(pace.high, 1)})`
          : '';
      return `${formatNumber(value, 1)} % a minute${interval}`;
    },
    '0 % a minute',
    OURS,
  );
}

function spreadLine(
  label: string,
  spread: Spread,
  places: number,
  unit: string,
  ideal: string,
  source: string,
): FigureLine {
  const text = (mean: number) =>
    `${formatNumber(mean, places)}${unit} (sd ${formatFigure(spread.sd, places, unit)}, n ${spread.n})`;
  return line(label, spread.mean, text, ideal, source);
}

function line(
  label: string,
  figure: Figure,
  text: (value: number) => string,
  ideal: string,
  source: string,
): FigureLine {
  if (typeof figure === 'number') return { label, value: text(figure), ideal, source };
  return { label, value: formatFigure(figure, 0), reason: figure.reason, ideal, source };
}

function decimals(places: number): (value: number) => string {
  return (value) => formatNumber(value, places);
}

function ms(value: number): string {
  return `${formatNumber(value, 0)} ms`;
}
