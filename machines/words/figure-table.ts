import type { CountFigures, Steadiness } from '../scoring/count-figures.ts';
import type { Figure } from '../scoring/figure.ts';
import type { PaceChange, Spread } from '../scoring/figures.ts';
import type { ReportFigures } from '../scoring/report.ts';
import { leftOutWords, ofCycles } from './english.ts';
import { formatFigure, formatNumber } from './format.ts';
import { equalWord, formatWithPlusMinus } from './plus-minus-words.ts';

/** One line of a figure table: what it is, what was measured, what would be ideal and whose number that is. */
export type FigureLine = { label: string; value: string; reason?: string; ideal: string; source: string };
export type FigureGroup = { title: string; lines: FigureLine[] };

const GUIDELINE = 'guideline';
const FOLLOWS = 'follows from the guideline’s rates';
const OURS = 'tool default';

/** Every figure of a bout, a role or a drill with its ±, where it was asked for, and the ideal beside it, for the instructor. `cycleMs` is T. */
export function figureTable(figures: ReportFigures, cycleMs: number, pace?: PaceChange): FigureGroup[] {
  return [
    { title: 'The pair', lines: pairLines(figures, cycleMs, pace) },
    { title: 'Compressor', lines: compressorLines(figures, cycleMs) },
    { title: 'Ventilator', lines: ventilatorLines(figures, cycleMs) },
  ];
}

function pairLines(figures: ReportFigures, cycleMs: number, pace: PaceChange | undefined): FigureLine[] {
  const perMin = 60_000 / cycleMs;
  const { cycles, clash, pauses, plusMinus: pm } = figures;
  const lines: FigureLine[] = [
    line(
      'Coordinated',
      figures.coordinatedShare,
      (share) =>
        `${ofCycles(cycles.coordinated, cycles.total)}${sharePlusMinus(share, pm?.coordinatedShare)}`,
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
      decimals(1, pm?.compressionsPerMin),
      formatNumber(3 * perMin, 0),
      GUIDELINE,
    ),
    line(
      'Breaths a minute',
      figures.breathsPerMin,
      decimals(1, pm?.breathsPerMin),
      formatNumber(perMin, 0),
      GUIDELINE,
    ),
    line('Cycle, median', figures.cycleMs.median, ms(pm?.cycleMs.median), `${cycleMs} ms`, FOLLOWS),
    line('Cycle, middle half spans', figures.cycleMs.iqr, ms(pm?.cycleMs.iqr), 'small', OURS),
    line('Cycle jitter', figures.cycleJitterMs, ms(pm?.cycleJitterMs), 'small', OURS),
    spreadLine('Breath’s place in the cycle', figures.breathPhase, 3, '', '0.75', FOLLOWS, pm?.breathPhase),
    line('Clashes', clash.count, decimals(0, pm?.clash.count), '0', GUIDELINE),
    line('… breath too soon', clash.byBreath, decimals(0, pm?.clash.byBreath), '0', OURS),
    line('… compression too soon', clash.byCompression, decimals(0, pm?.clash.byCompression), '0', OURS),
    line('Pauses', pauses.count, decimals(0, pm?.pauses.count), '0', OURS),
    line('Longest pause', pauses.longestMs, ms(), '0 ms', OURS),
  ];
  if (pace) lines.push(paceLine(pace));
  if (figures.leftOut > 0)
    lines.push({ label: 'Left out', value: leftOutWords(figures.leftOut), ideal: 'none', source: OURS });
  return lines;
}

function compressorLines({ compressor, count, plusMinus }: ReportFigures, cycleMs: number): FigureLine[] {
  const pm = plusMinus?.compressor;
  return [
    spreadLine(
      'Interval inside the triplet',
      compressor.intervalMs,
      0,
      ' ms',
      `${cycleMs / 4} ms`,
      FOLLOWS,
      pm?.intervalMs,
    ),
    line(
      'Pace inside the triplet',
      compressor.intervalMs.mean,
      (mean) => `${formatWithPlusMinus(60_000 / mean, paceError(mean, pm?.intervalMs.mean), 0)} a minute`,
      `${formatNumber(240_000 / cycleMs, 0)} a minute`,
      FOLLOWS,
    ),
    line('Triplet jitter', compressor.tripletJitterMs, ms(pm?.tripletJitterMs), 'small', OURS),
    spreadLine('Length of a compression', compressor.dwellMs, 0, ' ms', 'none', OURS, pm?.dwellMs),
    line('Let up for under 100 ms', compressor.shortReleases, decimals(0, pm?.shortReleases), 'look', OURS),
    asynchronyLine(
      'Compression to its heard beat',
      count.asynchronyMs.compressor,
      count.plusMinus?.asynchronyMs.compressor,
    ),
  ];
}

function ventilatorLines(figures: ReportFigures, cycleMs: number): FigureLine[] {
  const { ventilator, clash, count, plusMinus: pm } = figures;
  return [
    spreadLine(
      'Third compression to breath',
      figures.breathLagMs,
      0,
      ' ms',
      `${cycleMs / 4} ms`,
      FOLLOWS,
      pm?.breathLagMs,
    ),
    spreadLine(
      '… by the triplet’s interval',
      figures.breathLagRatio,
      2,
      '',
      '1',
      FOLLOWS,
      pm?.breathLagRatio,
    ),
    spreadLine(
      'Breath to the next “one”',
      figures.restartLagMs,
      0,
      ' ms',
      `${cycleMs / 4} ms`,
      FOLLOWS,
      pm?.restartLagMs,
    ),
    spreadLine('Length of a squeeze', ventilator.dwellMs, 0, ' ms', 'none', OURS, pm?.ventilator.dwellMs),
    line(
      'Squeezed for under 200 ms',
      ventilator.shortSqueezes,
      decimals(0, pm?.ventilator.shortSqueezes),
      'look',
      OURS,
    ),
    line('Bag let go late', clash.letGoLate, decimals(0, pm?.clash.letGoLate), '0', OURS),
    asynchronyLine(
      'Breath to the heard “breathe”',
      count.asynchronyMs.ventilator,
      count.plusMinus?.asynchronyMs.ventilator,
    ),
  ];
}

/** "31 ± 5 ms early (sd 22 ms, n 84)". */
function asynchronyLine(label: string, asynchrony: Spread, plusMinus: Figure | undefined): FigureLine {
  const text = (mean: number) =>
    `${formatWithPlusMinus(Math.abs(mean), plusMinus, 0)} ms${earlyOrLate(mean)} (sd ${formatFigure(asynchrony.sd, 0, ' ms')}, n ${asynchrony.n})`;
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

/**
 * Does the rhythm survive silence? Null where there were no cycles of one of the two kinds. With ±, the second of two
 * figures that agree within theirs is called equal.
 */
export function countTable({ withCount, withoutCount }: CountFigures): CountLine[] | null {
  if (withCount.cycles === 0 || withoutCount.cycles === 0) return null;
  const row = (
    label: string,
    pick: (of: Pick<Steadiness, 'coordinatedShare' | 'cycleMs' | 'cycleJitterMs'>) => Figure,
    text: (steadiness: Steadiness) => string,
  ): CountLine => {
    const [one, other] = [withCount, withoutCount].map((of) => ({
      figure: pick(of),
      ...(of.plusMinus === undefined ? {} : { plusMinus: pick(of.plusMinus) }),
    }));
    const equal = one === undefined || other === undefined ? '' : equalWord(one, other);
    return { label, withCount: text(withCount), withoutCount: `${text(withoutCount)}${equal}` };
  };
  const msRow = (label: string, pick: Parameters<typeof row>[1]) =>
    row(label, pick, (of) => {
      const figure = pick(of);
      return typeof figure === 'number'
        ? ms(of.plusMinus && pick(of.plusMinus))(figure)
        : formatFigure(figure, 0);
    });
  return [
    row(
      'Coordinated',
      (of) => of.coordinatedShare,
      ({ coordinated, cycles, coordinatedShare, plusMinus }) => {
        const share = typeof coordinatedShare === 'number' ? coordinatedShare : 0;
        return `${ofCycles(coordinated, cycles)}${sharePlusMinus(share, plusMinus?.coordinatedShare)}`;
      },
    ),
    msRow('Cycle, median', (of) => of.cycleMs.median),
    msRow('Cycle, middle half spans', (of) => of.cycleMs.iqr),
    msRow('Cycle jitter', (of) => of.cycleJitterMs),
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
  plusMinus?: { mean: Figure; sd: Figure },
): FigureLine {
  const sd =
    typeof spread.sd === 'number'
      ? `${formatWithPlusMinus(spread.sd, plusMinus?.sd, places)}${unit}`
      : formatFigure(spread.sd, places);
  const text = (mean: number) =>
    `${formatWithPlusMinus(mean, plusMinus?.mean, places)}${unit} (sd ${sd}, n ${spread.n})`;
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

function decimals(places: number, plusMinus?: Figure): (value: number) => string {
  return (value) => formatWithPlusMinus(value, plusMinus, places);
}

function ms(plusMinus?: Figure): (value: number) => string {
  return (value) => `${formatWithPlusMinus(value, plusMinus, 0)} ms`;
}

/** The ± of 60 000 ÷ a mean: its slope times the mean's. */
function paceError(meanMs: number, plusMinus: Figure | undefined): Figure | undefined {
  return typeof plusMinus === 'number' ? (60_000 / meanMs ** 2) * plusMinus : plusMinus;
}

/** A share is shown as cycles, its ± in percent: ", 97 ± 2 %". */
function sharePlusMinus(share: number, plusMinus: Figure | undefined): string {
  if (typeof plusMinus !== 'number') return '';
  return `, ${formatWithPlusMinus(100 * share, 100 * plusMinus, 0)} %`;
}
