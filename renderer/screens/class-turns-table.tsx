import type { ReactElement } from 'react';
import type { Group } from '../../machines/class/turn.ts';
import { CLASS_WORDS } from '../../machines/words/class-words.ts';
import { CLASS_PAGE_WORDS } from '../../machines/words/screen-class.ts';

/** A turn that is to come, or one that was held: that has no minute, and nobody wrote down who waited. */
type ListedTurn = {
  number: number;
  groups: readonly Group[];
  startMinutes?: number;
  rest?: readonly string[];
  isExtra?: boolean;
};

/** Turn by turn, a row a station: the same on the screen and on the wall. */
export function ClassTurnsTable({
  turns,
  label,
}: {
  turns: readonly ListedTurn[];
  label: string;
}): ReactElement {
  const { roles } = CLASS_WORDS;
  return (
    <table className="class-turns" aria-label={label}>
      <thead>
        <tr>
          {[CLASS_PAGE_WORDS.stationColumn, roles.chest, roles.airway, roles.observer].map((column) => (
            <th scope="col" key={column}>
              {column}
            </th>
          ))}
        </tr>
      </thead>
      {turns.map(({ number, groups, startMinutes, rest = [], isExtra = false }) => (
        <tbody key={number}>
          <tr>
            <th colSpan={4} scope="rowgroup">
              <b>{CLASS_WORDS.turn(number)}</b>{' '}
              {startMinutes === undefined ? null : (
                <span className="quiet">{CLASS_PAGE_WORDS.fromMinute(startMinutes)}</span>
              )}
              {isExtra ? <span className="quiet">, {CLASS_WORDS.extra}</span> : null}
            </th>
          </tr>
          {groups.map(({ station, chest, airway, observer }) => (
            <tr key={station}>
              <th scope="row">{station}</th>
              <td>{chest}</td>
              <td>{airway}</td>
              <td>{observer}</td>
            </tr>
          ))}
          {rest.length === 0 ? null : (
            <tr>
              <td colSpan={4} className="quiet">
                {CLASS_PAGE_WORDS.waits(rest)}
              </td>
            </tr>
          )}
        </tbody>
      ))}
    </table>
  );
}
