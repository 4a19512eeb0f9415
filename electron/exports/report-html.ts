import type { Rig } from '../../machines/journal.ts';
import { CYCLE_MS } from '../../machines/pattern.ts';
import type { ScoredJournal } from '../../machines/replay.ts';
import type { Advice } from '../../machines/scoring/advice.ts';
import type { PaceChange } from '../../machines/scoring/figures.ts';
import { firstRightMsOf } from '../../machines/scoring/handover-figures.ts';
import {
  type BoutReport,
  type DrillReport,
  hasTwoTechniques,
  type ReportFigures,
} from '../../machines/scoring/report.ts';
import { drawSheet } from '../../machines/sheet-drawing.ts';
import { ADVICE_WORDS, type AdviceSentence, adviceSentences } from '../../machines/words/advice-words.ts';
import { CAUTIONS, NOT_BY_SWITCH, NOT_MEASURED } from '../../machines/words/english.ts';
import {
  COUNT_TABLE_WORDS,
  type CountLine,
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
import { comparisonsHtml } from './comparisons-html.ts';
import { escapeMarkup as safe } from './markup.ts';
import { sheetSvg } from './sheet-svg.ts';

/** A drill's report as one HTML file that needs nothing else: no script, no font, no picture from elsewhere. */
export function reportHtml(fileName: string, { report, rows, advice }: ScoredJournal): string {
  const { drill, bouts, handovers, checks, warnings } = report;
  const names = `${drill.people.A.name} and ${drill.people.B.name}`;
  const rigCheck = rigCheckSentence(drill, bouts);
  const sheet = drawSheet({ report, rows, tolerance: drill.tolerance });
  const sections = [
    `<h1>${safe(names)}</h1><p class="quiet">${safe(drill.openedAt)} · ${safe(fileName)}</p>`,
    drill.rig === 'rhythm' ? `<p class="notice">${safe(CAUTIONS.rhythm)}</p>` : '',
    rigCheck === null ? '' : `<p>${safe(rigCheck)}</p>`,
    `<p class="headline">${safe(headlineOf(report, rows))}</p>`,
    ...signatureSentences(drill).map((signed) => `<p>${safe(signed)}</p>`),
    adviceSection(report, advice),
    `<p>With dead time: ${formatFigure(drill.attempt.compressionsPerMin, 1)} compressions and ${formatFigure(drill.attempt.breathsPerMin, 1)} breaths a minute over ${formatSeconds(drill.attempt.ms)}.</p>`,
    `<h2>Sheet</h2><p class="quiet">A row a cycle, two seconds from column “one” to “next one”; bars are compressions, pills are breaths.</p>${sheetSvg(sheet)}`,
    ventilationSection(report),
    listSection(
      'Handovers',
      handovers.map((handover) =>
        handoverWithSteps(handover, firstRightMsOf(handover, bouts, rows, drill.tolerance)),
      ),
    ),
    listSection('Checks', checks.map(checkSentence)),
    countSection(countTable(drill.count)),
    comparisonsHtml(report),
    hasTwoTechniques(report) ? `<p class="notice">${safe(CAUTIONS.technique)}</p>` : '',
    ...bouts.map((bout, index) => ticksSection(bout, index, drill.rig)),
    listSection(`No switch can know (${NOT_MEASURED})`, NOT_BY_SWITCH),
    `<p class="quiet">${safe(switchOffsetSentence(drill))} ${safe(PLUS_MINUS_NOTE)}</p>`,
    figuresSection('The whole drill', drill, CYCLE_MS),
    ...bouts.map((bout, index) =>
      figuresSection(
        `Bout ${index + 1}: ${drill.people[bout.roles.compressor].name} compresses`,
        bout,
        bout.idealCycleMs,
        bout.paceChangePctPerMin,
      ),
    ),
    listSection('Warnings', warnings),
    `<footer><p>${safe(CAUTIONS.purpose)}</p><p>${safe(CAUTIONS.newlyBorn)}</p></footer>`,
  ];
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>Antiphon: ${safe(names)}</title><style>${STYLE}</style></head>
<body><main>${sections.join('\n')}</main></body></html>
`;
}

function listSection(title: string, items: readonly string[]): string {
  if (items.length === 0) return '';
  return `<h2>${safe(title)}</h2><ul>${items.map((item) => `<li>${safe(item)}</li>`).join('')}</ul>`;
}

function adviceSection({ drill }: DrillReport, advice: Advice): string {
  const names = { A: drill.people.A.name, B: drill.people.B.name };
  const { headline, tick, people, pair, praise, next } = adviceSentences(advice, names);
  const list = (sentences: readonly (AdviceSentence | null)[], last: string) => {
    const items = sentences.flatMap((one) => (one === null ? [] : [itemOf(one)]));
    return `<ul>${items.join('')}${last}</ul>`;
  };
  const went = praise.length === 0 ? '' : `<h2>${safe(ADVICE_WORDS.praise)}</h2>${list(praise, '')}`;
  const kept = headline === null ? '' : `<p>${safe(headline.text)}</p>`;
  return `${kept}${went}<h2>${safe(ADVICE_WORDS.title)}</h2>${list([tick, ...people, pair], `<li>${safe(next)}</li>`)}`;
}

function itemOf({ text, figures }: AdviceSentence): string {
  return `<li>${safe(text)}${figures === null ? '' : `<br><span class="quiet">${safe(figures)}</span>`}</li>`;
}

function ventilationSection({ ventilationStage, drill }: DrillReport): string {
  if (ventilationStage === null) return '';
  const lines = ventilationLines(ventilationStage, drill.guideline).map(rowOf).join('');
  const { title, note, back } = VENTILATION_WORDS;
  const table = `<h2>${safe(title)}</h2><p class="quiet">${safe(note)}</p><table>${FIGURE_HEAD}<tbody>${lines}</tbody></table>`;
  return `${table}${listSection(back, ventilationStage.backToVentilation.map(backSentence))}`;
}

function ticksSection(bout: BoutReport, index: number, rig: Rig): string {
  if (rig === 'rhythm') return '';
  const note = praiseNote(bout);
  const list = listSection(`${TICKS_WORDS.report}, bout ${index + 1}`, tickSentences(bout));
  return note === null ? list : `${list}<p class="quiet">${safe(note)}</p>`;
}

function countSection(lines: readonly CountLine[] | null): string {
  if (lines === null) return '';
  const { title, figure, withCount, withoutCount, note } = COUNT_TABLE_WORDS;
  const head = [figure, withCount, withoutCount].map((word) => `<th scope="col">${safe(word)}</th>`).join('');
  const body = lines
    .map(
      (line) =>
        `<tr><th scope="row">${safe(line.label)}</th><td>${safe(line.withCount)}</td><td>${safe(line.withoutCount)}</td></tr>`,
    )
    .join('');
  return `<h2>${safe(title)}</h2><table><thead><tr>${head}</tr></thead><tbody>${body}</tbody></table><p class="quiet">${safe(note)}</p>`;
}

function figuresSection(title: string, figures: ReportFigures, cycleMs: number, pace?: PaceChange): string {
  const groups = figureTable(figures, cycleMs, pace);
  const bodies = groups.map(
    (group) =>
      `<tbody><tr><th colspan="4" scope="rowgroup">${safe(group.title)}</th></tr>${group.lines.map(rowOf).join('')}</tbody>`,
  );
  return `<details><summary>${safe(title)}</summary><table>${FIGURE_HEAD}${bodies.join('')}</table></details>`;
}

function rowOf({ label, value, reason, ideal, source }: FigureLine): string {
  const measured =
    reason === undefined ? safe(value) : `${safe(value)}: <span class="quiet">${safe(reason)}</span>`;
  return `<tr><th scope="row">${safe(label)}</th><td>${measured}</td><td class="quiet">${safe(ideal)}</td><td class="quiet">${safe(source)}</td></tr>`;
}

const FIGURE_HEAD =
  '<thead><tr><th scope="col">Figure</th><th scope="col">Measured</th><th scope="col">Ideal</th><th scope="col">Whose ideal</th></tr></thead>';

const STYLE = `
:root{color-scheme:light dark;--paper:#fbfaf7;--text:#1d2733;--quiet:#566270;--blue:#1f4e79;--ochre:#a5570b;--wine:#7a1f3d;--column:#e7eaee;--tint:#f3ece4}
@media (prefers-color-scheme:dark){:root{--paper:#15191e;--text:#ece9e2;--quiet:#a9b2bc;--blue:#7fb0dd;--ochre:#e39a4c;--wine:#f0a0b6;--column:#252c34;--tint:#2c2620}}
body{margin:0;background:var(--paper);color:var(--text);font:1rem/1.5 system-ui,sans-serif;font-variant-numeric:tabular-nums}
main{max-width:64rem;margin:0 auto;padding:2rem}h1{font-size:1.5rem;margin:0}h2{font-size:1.1rem;margin:2rem 0 .5rem}
.headline{font-size:1.5rem;line-height:1.35;max-width:48rem}.quiet{color:var(--quiet);font-weight:400}.notice{border-left:.25rem solid var(--ochre);padding-left:1rem}
.sheet{width:100%;height:auto}.sheet text{font:12px system-ui,sans-serif}
.ink-column{fill:var(--column)}.ink-tint{fill:var(--tint)}.ink-compression{fill:var(--blue)}.ink-breath{fill:none;stroke:var(--ochre);stroke-width:2}
.ink-left-out-compression{fill:var(--quiet)}.ink-left-out-breath{fill:none;stroke:var(--quiet);stroke-width:2}
.ink-end{stroke:var(--text);stroke-width:1.2}.ink-strong{fill:var(--text);font-weight:600!important}.ink-plain{fill:var(--text)}.ink-quiet{fill:var(--quiet)}.ink-fault{fill:var(--wine)}
details{margin:.5rem 0}summary{cursor:pointer;font-weight:600}table{border-collapse:collapse;width:100%}th,td{text-align:left;padding:.2rem 1rem .2rem 0;vertical-align:top;font-weight:400}thead th,th[scope=rowgroup]{font-weight:600}
footer{margin-top:3rem;color:var(--quiet)}
@media print{details::details-content{content-visibility:visible;height:auto}body{background:none}}`;
