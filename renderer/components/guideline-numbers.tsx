import type { ReactElement } from 'react';
import type { Guideline } from '../../machines/pattern.ts';
import { guidelineTable } from '../../machines/words/guideline-table.ts';
import { SET_UP_WORDS } from '../../machines/words/screen-set-up.ts';

/** A preset's numbers on demand. */
export function GuidelineNumbers({ guideline }: { guideline: Guideline }): ReactElement {
  return (
    <details className="guideline">
      <summary>{SET_UP_WORDS.guidelineNumbers}</summary>
      <GuidelineTable guideline={guideline} />
    </details>
  );
}

/** A preset's numbers, each with its source; what was not read in the source says so beside the value. */
export function GuidelineTable({ guideline }: { guideline: Guideline }): ReactElement {
  return (
    <table className="guideline-table">
      <thead>
        <tr>
          <th scope="col">{SET_UP_WORDS.number}</th>
          <th scope="col">{SET_UP_WORDS.value}</th>
          <th scope="col">{SET_UP_WORDS.source}</th>
        </tr>
      </thead>
      <tbody>
        {guidelineTable(guideline).map((line) => (
          <tr key={line.name}>
            <th scope="row">{line.name}</th>
            <td>
              {line.value}
              {line.label === null ? null : <span className="standing"> {line.label}</span>}
            </td>
            <td>
              {line.source} <span className="quiet">({line.standing})</span>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
