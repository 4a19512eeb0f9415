import type { ReactElement } from 'react';
import type { FigureGroup } from '../../machines/words/figure-table.ts';
import { DEBRIEF_WORDS } from '../../machines/words/screen-debrief.ts';

type FigureGroupsProps = { groups: readonly FigureGroup[]; onSource: () => void };

/** Figures with the ideal and whose it is beside each, its source one click away. What was not measured says why. */
export function FigureGroups({ groups, onSource }: FigureGroupsProps): ReactElement {
  return (
    <>
      {groups.map(({ title, lines }) => (
        <table className="figures" key={title}>
          <caption>{title}</caption>
          <thead>
            <tr>
              <th scope="col">{DEBRIEF_WORDS.figure}</th>
              <th scope="col">{DEBRIEF_WORDS.measured}</th>
              <th scope="col">{DEBRIEF_WORDS.ideal}</th>
              <th scope="col">{DEBRIEF_WORDS.whose}</th>
            </tr>
          </thead>
          <tbody>
            {lines.map((line) => (
              <tr key={line.label}>
                <th scope="row">{line.label}</th>
                <td>
                  {line.value}
                  {line.reason === undefined ? null : <span className="quiet">: {line.reason}</span>}
                </td>
                <td className="quiet">{line.ideal}</td>
                <td>
                  <button type="button" className="source" onClick={onSource}>
                    {line.source}
                  </button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      ))}
    </>
  );
}
