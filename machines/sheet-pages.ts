import { type Drawing, drawSheet, type SheetInput } from './sheet-drawing.ts';

/**
 * Part of a drill's sheet: the rows from `from` up to but not with `to`, each bout under its own label, with what was called between
 * them. A handover or check before a bout is drawn above that bout's first row; after the last row only if no row follows.
 */
export function drawRows({ report, rows, tolerance }: SheetInput, from: number, to: number): Drawing {
  const part = rows.slice(from, to);
  const first = from === 0 ? 0 : (part[0]?.bout ?? 0);
  const last = part.at(-1)?.bout ?? 0;
  const next = rows[to]?.bout;
  const startOf = (bout: number | undefined) =>
    bout === undefined ? Number.POSITIVE_INFINITY : (report.bouts[bout]?.startMs ?? 0);
  const untilMs = next === last ? startOf(last) : startOf(next);
  const isShown = ({ calledMs }: { calledMs: number }) =>
    calledMs >= (from === 0 ? 0 : startOf(first)) && calledMs < untilMs;
  return drawSheet({
    report: {
      ...report,
      bouts: report.bouts.slice(first, next === undefined ? undefined : last + 1),
      handovers: report.handovers.filter(isShown),
      checks: report.checks.filter(isShown),
    },
    rows: part.map((row) => ({ ...row, bout: row.bout - first })),
    tolerance,
  });
}

/** A whole sheet cut between rows into drawings of at most so many units' height, for paper. */
export function sheetPages(input: SheetInput, mostHeight: number): Drawing[] {
  const { places } = drawSheet(input);
  const pages: Drawing[] = [];
  let from = 0;
  while (from < places.length) {
    let to = places.length;
    // A part has its own headings, so how far it reaches is known only once it is drawn.
    const top = places[from]?.y ?? 0;
    const beyond = places.findIndex(({ y, height }, row) => row > from && y + height - top > mostHeight);
    if (beyond !== -1) to = beyond;
    let page = drawRows(input, from, to);
    while (page.height > mostHeight && to > from + 1) {
      to -= 1;
      page = drawRows(input, from, to);
    }
    pages.push(page);
    from = to;
  }
  return pages;
}
