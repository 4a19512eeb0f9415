import type { DrillReport } from '../../machines/scoring/report.ts';

/** The sheet's labels have room for so many letters of a name. */
const LONGEST = 10;

/** The report with names that fit beside the sheet. */
export function withShortNames(report: DrillReport): DrillReport {
  const { A, B } = report.drill.people;
  const people = { A: { ...A, name: shortName(A.name) }, B: { ...B, name: shortName(B.name) } };
  return { ...report, drill: { ...report.drill, people } };
}

function shortName(name: string): string {
  const letters = Array.from(new Intl.Segmenter('en').segment(name), ({ segment }) => segment);
  return letters.length <= LONGEST
    ? name
    : `${letters
        .slice(0, LONGEST - 1)
        .join('')
        .trimEnd()}…`;
}
