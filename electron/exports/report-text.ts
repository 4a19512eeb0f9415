import type { ScoredJournal } from '../../machines/replay.ts';
import type { Advice } from '../../machines/scoring/advice.ts';
import { firstRightMsOf } from '../../machines/scoring/handover-figures.ts';
import { type DrillReport, hasTwoTechniques } from '../../machines/scoring/report.ts';
import { ADVICE_WORDS, type AdviceSentence, adviceSentences } from '../../machines/words/advice-words.ts';
import {
  COMPARISON_WORDS,
  comparisonCaution,
  comparisonNote,
  comparisonText,
  comparisonTitle,
} from '../../machines/words/comparison-words.ts';
import { CAUTIONS, NOT_BY_SWITCH, NOT_MEASURED } from '../../machines/words/english.ts';
import {
  COUNT_TABLE_WORDS,
  countTable,
  type FigureLine,
  figureTable,
} from '../../machines/words/figure-table.ts';
import { formatFigure, formatSeconds } from '../../machines/words/format.ts';
import { checkSentence, handoverWithSteps } from '../../machines/words/handover-sentence.ts';
import { headlineOf } from '../../machines/words/headline.ts';
import { PLUS_MINUS_NOTE, switchOffsetSentence } from '../../machines/words/plus-minus-words.ts';
import { rigCheckSentence } from '../../machines/words/rig-check.ts';
import { signatureSentences } from '../../machines/words/signature-words.ts';
import { praiseNote, TICKS_WORDS, tickSentences } from '../../machines/words/tick-words.ts';
import { backSentence, VENTILATION_WORDS, ventilationLines } from '../../machines/words/ventilation-words.ts';

/** A drill's report as plain text for a terminal or a mail. */
export function reportText(fileName: string, { report, rows, advice }: ScoredJournal): string {
  const { drill, bouts, handovers, checks, warnings } = report;
  const lines = [fileName, headlineOf(report, rows), ...adviceLines(report, advice), ''];
  if (drill.rig === 'rhythm') lines.push(CAUTIONS.rhythm, '');
  const rigCheck = rigCheckSentence(drill, bouts);
  if (rigCheck !== null) lines.push(rigCheck, '');
  const signed = signatureSentences(drill);
  if (signed.length > 0) lines.push(...signed, '');
  lines.push(
    `With dead time: ${formatFigure(drill.attempt.compressionsPerMin, 1)} compressions and ${formatFigure(drill.attempt.breathsPerMin, 1)} breaths a minute over ${formatSeconds(drill.attempt.ms)}.`,
    switchOffsetSentence(drill),
    PLUS_MINUS_NOTE,
  );
  bouts.forEach((bout, index) => {
    const { compressor, ventilator } = bout.roles;
    lines.push(
      '',
      `Bout ${index + 1}: ${drill.people[compressor].name} compresses, ${drill.people[ventilator].name} ventilates; ${bout.technique}, ${bout.stance}${bout.slowed ? '; slower tempo' : ''}`,
    );
    for (const group of figureTable(bout, bout.idealCycleMs, bout.paceChangePctPerMin)) {
      lines.push(`  ${group.title}`, ...group.lines.map(figureLine));
    }
    if (drill.rig === 'manikin') {
      lines.push(
        `  ${TICKS_WORDS.report}`,
        ...[...tickSentences(bout), praiseNote(bout) ?? []].flat().map((one) => `    ${one}`),
      );
    }
  });
  if (handovers.length > 0)
    lines.push(
      '',
      'Handovers',
      ...handovers.map(
        (handover) =>
          `  ${handoverWithSteps(handover, firstRightMsOf(handover, bouts, rows, drill.tolerance))}`,
      ),
    );
  if (report.ventilationStage !== null) {
    const { backToVentilation } = report.ventilationStage;
    lines.push('', VENTILATION_WORDS.title, `  ${VENTILATION_WORDS.note}`);
    lines.push(...ventilationLines(report.ventilationStage, drill.guideline).map(figureLine));
    lines.push(...backToVentilation.map((back) => `    ${VENTILATION_WORDS.back} ${backSentence(back)}`));
  }
  if (checks.length > 0) lines.push('', 'Checks', ...checks.map((check) => `  ${checkSentence(check)}`));
  const counted = countTable(drill.count);
  if (counted !== null) {
    const { title, withCount, withoutCount, note } = COUNT_TABLE_WORDS;
    lines.push('', title, countLine('', withCount, withoutCount));
    lines.push(
      ...counted.map((line) => countLine(line.label, line.withCount, line.withoutCount)),
      `  ${note}`,
    );
  }
  lines.push(...comparisonsText(report));
  if (hasTwoTechniques(report)) lines.push('', CAUTIONS.technique);
  lines.push('', `No switch can know: ${NOT_BY_SWITCH.join(', ')}: ${NOT_MEASURED}.`);
  if (warnings.length > 0) lines.push('', 'Warnings', ...warnings.map((warning) => `  ${warning}`));
  lines.push('', CAUTIONS.purpose, CAUTIONS.newlyBorn, '');
  return lines.join('\n');
}

function adviceLines({ drill }: DrillReport, advice: Advice): string[] {
  const names = { A: drill.people.A.name, B: drill.people.B.name };
  const { headline, tick, people, pair, praise, next } = adviceSentences(advice, names);
  const lines = (sentences: readonly (AdviceSentence | null)[]) =>
    sentences.flatMap((one) =>
      one === null ? [] : [`  ${one.text}`, ...(one.figures === null ? [] : [`    ${one.figures}`])],
    );
  return [
    ...(headline === null ? [] : [headline.text]),
    ...(praise.length === 0 ? [] : ['', ADVICE_WORDS.praise, ...lines(praise)]),
    '',
    ADVICE_WORDS.title,
    ...lines([tick, ...people, pair]),
    `  ${next}`,
  ];
}

function comparisonsText({ comparisons, drill }: DrillReport): string[] {
  if (comparisons.length === 0) return [];
  const names = { A: drill.people.A.name, B: drill.people.B.name };
  const each = comparisons.flatMap((comparison) => [
    `  ${comparisonTitle(comparison, names)}`,
    ...comparisonText(comparison, names).map((line) => `    ${line}`),
    ...[comparisonCaution(comparison) ?? []].flat().map((caution) => `    ${caution}`),
  ]);
  return ['', COMPARISON_WORDS.title, ...each, `  ${comparisonNote(comparisons)}`];
}

function countLine(label: string, withCount: string, withoutCount: string): string {
  return `    ${label.padEnd(34)} ${withCount.padEnd(20)} ${withoutCount}`;
}

function figureLine({ label, value, reason, ideal }: FigureLine): string {
  const measured = reason === undefined ? value : `${value}: ${reason}`;
  return `    ${label.padEnd(34)} ${measured.padEnd(44)} ideal ${ideal}`;
}
