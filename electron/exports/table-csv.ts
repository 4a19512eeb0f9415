import { csvRecord } from './csv.ts';

/** What stands in a cell; null is an empty one. */
export type Cell = string | number | boolean | null;

/** How each column of a table is filled from a row, in order. */
export type Columns<Column extends string, Row> = Readonly<Record<Column, (row: Row) => Cell>>;

/** A table in CSV, a header and a record a row. `names` gives the columns and their order. */
export function tableCsv<Column extends string, Row>(
  names: Readonly<Record<Column, unknown>>,
  columns: Columns<Column, Row>,
  rows: readonly Row[],
): string {
  const order = Object.keys(names) as Column[];
  const record = (row: Row) => csvRecord(order.map((name) => fieldOf(columns[name](row))));
  return csvRecord(order) + rows.map(record).join('');
}

function fieldOf(cell: Cell): string | number {
  if (cell === null) return '';
  return typeof cell === 'boolean' ? String(cell) : cell;
}
