import type { ReactElement } from 'react';
import type { FigureGroup, FigureLine } from '../../machines/words/figure-table.ts';
import { DEBRIEF_WORDS } from '../../machines/words/screen-debrief.ts';
import { PlainTable, type TableRow } from './plain-table.tsx';

type FigureGroupsProps = { groups: readonly FigureGroup[]; onSource: () => void };

/** Figures with the ideal and whose it is beside each, its source one click away. What was not measured says why. */
export function FigureGroups({ groups, onSource }: FigureGroupsProps): ReactElement {
  const { figure, measured, ideal, whose } = DEBRIEF_WORDS;
  const rowOf = ({ label, value, reason, ideal: wanted, source }: FigureLine): TableRow => ({
    head: label,
    cells: [
      <>
        {value}
        {reason === undefined ? null : <span className="quiet">: {reason}</span>}
      </>,
      { quiet: wanted },
      <button key="source" type="button" className="source" onClick={onSource}>
        {source}
      </button>,
    ],
  });
  return (
    <>
      {groups.map(({ title, lines }) => (
        <PlainTable
          key={title}
          caption={title}
          columns={[figure, measured, ideal, whose]}
          rows={lines.map(rowOf)}
        />
      ))}
    </>
  );
}
