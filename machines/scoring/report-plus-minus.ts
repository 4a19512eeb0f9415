import type { DrillFold } from '../drill-fold.ts';
import type { Person, Roles } from '../journal.ts';
import type { Bout } from './bout.ts';
import type { Figures } from './figures.ts';
import { instrumentOf } from './instrument.ts';
import { type PlusMinus, plusMinusOf } from './plus-minus.ts';
import { type DrillReport, keyOf, rowsOf } from './report.ts';

/**
 * A report with ± beside every set of figures. Asked for once, when a drill is over: the blocks cost
 * some 20 ms a set of ten minutes, too much for after every cycle.
 */
export function withPlusMinus(report: DrillReport, fold: DrillFold): DrillReport {
  const { bouts } = fold.tracker.book;
  const known = new Map<string, PlusMinus>();
  const beside = <F extends Figures>(figures: F, of: readonly Bout[]): F & { plusMinus: PlusMinus } => {
    const key = keyOf(of);
    const plusMinus = known.get(key) ?? work(fold, of);
    known.set(key, plusMinus);
    return { ...figures, plusMinus };
  };
  const person = (id: Person) => {
    const figures = report.drill.people[id];
    const held = (role: keyof Roles) => bouts.filter((bout) => bout.roles[role] === id);
    return {
      ...figures,
      compressor: beside(figures.compressor, held('compressor')),
      ventilator: beside(figures.ventilator, held('ventilator')),
    };
  };
  return {
    ...report,
    drill: { ...beside(report.drill, bouts), people: { A: person('A'), B: person('B') } },
    bouts: report.bouts.map((figures, index) => beside(figures, bouts.slice(index, index + 1))),
  };
}

function work(fold: DrillFold, bouts: readonly Bout[]): PlusMinus {
  const compressors = bouts.map((bout) => bout.roles.compressor);
  return plusMinusOf(
    bouts.map((bout) => rowsOf(fold, bout)),
    fold.open.tolerance,
    instrumentOf(fold.open, compressors),
  );
}
