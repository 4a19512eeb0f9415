import type { Rig } from '../journal.ts';
import { figuresOf } from '../scoring/figures.ts';
import type { BoutReport, BoutRow, DrillReport } from '../scoring/report.ts';
import { leftOutWords } from './english.ts';
import { formatNumber } from './format.ts';
import { ventilationHeadline } from './ventilation-alone.ts';

const NOTHING = 'Timing only: no compression was registered after begin, so there is nothing to report.';

/** The headline in a sentence or three. It begins "Timing only:", since that is all that switches can know. */
export function headlineOf(report: DrillReport, rows: readonly BoutRow[]): string {
  const { bouts, drill, ventilationStage } = report;
  if (bouts.length === 0)
    return (ventilationStage === null ? null : ventilationHeadline(ventilationStage)) ?? NOTHING;
  const pooled = rows.filter((row) => isPooled(bouts[row.bout], drill.rig));
  const counted = pooled.filter(({ isLeftOut }) => !isLeftOut);
  const leftOut = pooled.length - counted.length;
  const beside = leftOut === 0 ? '' : ` ${leftOutWords(leftOut)}.`;
  if (bouts.every((bout) => bout.slowed)) {
    return 'Timing only: the whole drill was run at a slower tempo, which stands in no headline.';
  }
  const figures = figuresOf([counted], drill.tolerance);
  const { total, coordinated } = figures.cycles;
  if (total === 0 && leftOut > 0) return `Timing only: there is no cycle to report.${beside}`;
  if (total === 0) return 'Timing only: no cycle was completed, so there is nothing to report.';
  const { compressionsPerMin, breathsPerMin } = figures;
  const off = isUnled(counted) ? ', with the count off' : '';
  const share = `Timing only: ${countedWords(coordinated, total)} three compressions and a breath, each in its place${off}.`;
  if (typeof compressionsPerMin !== 'number' || typeof breathsPerMin !== 'number') return `${share}${beside}`;
  return `${share} Within them that is ${formatNumber(compressionsPerMin, 0)} compressions and ${formatNumber(breathsPerMin, 0)} breaths a minute, where 90 and 30 are wanted.${beside}`;
}

/** "20 of your 29 cycles were", "1 of your 12 cycles was", "your one cycle was not". */
function countedWords(coordinated: number, total: number): string {
  if (total === 1) return `your one cycle was${coordinated === 1 ? '' : ' not'}`;
  return `${coordinated} of your ${total} cycles ${coordinated === 1 ? 'was' : 'were'}`;
}

/** A stretch at the usual tempo, on the drill's own rig. */
function isPooled(bout: BoutReport | undefined, rig: Rig): boolean {
  return bout?.slowed === false && bout.rig === rig;
}

function isUnled(rows: readonly BoutRow[]): boolean {
  return rows.every((row) => row.guidance === 'unled' && !row.guidanceChanged);
}
