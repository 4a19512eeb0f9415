import type { ReactElement, ReactNode } from 'react';

export type TableCell = ReactNode | { quiet: ReactNode };
export type TableRow = { head: string; cells: readonly TableCell[] };

type PlainTableProps = {
  /** Its columns' widths, by class. */
  kind?: string;
  caption?: string;
  columns: readonly string[];
  rows: readonly TableRow[];
};

/** A table that is read line by line: each row is headed by what it is about. */
export function PlainTable({ kind, caption, columns, rows }: PlainTableProps): ReactElement {
  return (
    <table className={kind === undefined ? 'figures' : `figures ${kind}`}>
      {caption === undefined ? null : <caption>{caption}</caption>}
      <thead>
        <tr>
          {columns.map((column) => (
            <th scope="col" key={column}>
              {column}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map(({ head, cells }) => (
          <tr key={head}>
            <th scope="row">{head}</th>
            {cells.map((cell, column) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: a cell has no name but its column
              <td key={column} className={isQuiet(cell) ? 'quiet' : undefined}>
                {isQuiet(cell) ? cell.quiet : cell}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function isQuiet(cell: TableCell): cell is { quiet: ReactNode } {
  return typeof cell === 'object' && cell !== null && 'quiet' in cell;
}
