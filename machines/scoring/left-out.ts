import type { DrillFold } from '../drill-fold.ts';
import { type Ms, toMs, type Us } from '../units.ts';
import type { CycleRow } from './cycle-row.ts';

/** Of the figures of cycles that are left out: nobody knows what they were. */
export const LEFT_OUT_REASON = 'left out: the switch missed it';

/** The rows that count, as runs of neighbours: a row that is left out parts those before it from those after. */
export function runsWithout(rows: readonly CycleRow[], leftOut: ReadonlySet<Us>): CycleRow[][] {
  const runs: CycleRow[][] = [[]];
  for (const row of rows) {
    if (leftOut.has(row.startUs)) runs.push([]);
    else runs.at(-1)?.push(row);
  }
  return runs.filter((run) => run.length > 0);
}

/** What rows that are left out take from the whole of the bouts: their time, and their presses. */
export function shareOf(
  rows: readonly CycleRow[],
  leftOut: ReadonlySet<Us>,
): { us: Us; compressions: number; breaths: number } {
  const share = { us: 0, compressions: 0, breaths: 0 };
  for (const { startUs, lengthUs, compressions, breaths } of rows) {
    if (!leftOut.has(startUs)) continue;
    share.us += lengthUs;
    share.compressions += compressions.length;
    share.breaths += breaths.length;
  }
  return share;
}

/** What there is to say of remarks that do not fit the drill as it is now. `rows` are all complete cycles of its bouts. */
export function remarkWarnings({ remarks }: Pick<DrillFold, 'remarks'>, rows: readonly CycleRow[]): string[] {
  const starts = new Set(rows.map(({ startUs }) => startUs));
  const startMs = (startUs: Us): Ms => toMs(startUs);
  const warnings = [...remarks.marks]
    .filter(([startUs]) => !starts.has(startUs))
    .map(
      ([startUs, { number }]) =>
        `line ${number}: mark was ignored: no complete cycle starts at ${startMs(startUs)} ms`,
    );
  if (remarks.isChangedSinceSigned)
    warnings.push('cycles were marked after the signature: what was signed had other figures');
  return warnings;
}
