import type { ReactElement, RefObject } from 'react';
import type { Group } from '../../machines/class/turn.ts';
import type { PlannedTurn } from '../../machines/class/turns.ts';
import { CLASS_WORDS, groupWords } from '../../machines/words/class-words.ts';
import { CLASS_PAGE_WORDS } from '../../machines/words/screen-class.ts';

type ClassNextProps = {
  turn: PlannedTurn;
  turnMinutes: number;
  /** Turns that were held before it. */
  held: number;
  headingRef: RefObject<HTMLHeadingElement | null>;
  heldRef: RefObject<HTMLButtonElement | null>;
  onHeld: () => void;
  onTakeBack: () => void;
  onTake: (group: Group) => void;
};
/** With more stations than that, names are smaller, so that all are seen at once. */
const MOST_LARGE = 5;
const ROLES = ['chest', 'airway', 'observer'] as const;

/** The turn that comes now, for the whole room to read. */
export function ClassNext({
  turn,
  turnMinutes,
  held,
  headingRef,
  heldRef,
  onHeld,
  onTakeBack,
  onTake,
}: ClassNextProps): ReactElement {
  return (
    <section className="class-next" aria-labelledby="class-next">
      <div className="next-head">
        <h2 id="class-next" tabIndex={-1} ref={headingRef}>
          {CLASS_WORDS.next}: {CLASS_WORDS.turn(turn.number)}{' '}
          <span className="quiet">{CLASS_PAGE_WORDS.lasts(turnMinutes)}</span>
        </h2>
        <div className="plan-actions">
          <button type="button" className="primary" ref={heldRef} onClick={onHeld}>
            {CLASS_PAGE_WORDS.held}
          </button>
          {held === 0 ? null : (
            <button type="button" className="plain" onClick={onTakeBack}>
              {CLASS_PAGE_WORDS.takeBack(held)}
            </button>
          )}
        </div>
      </div>
      {turn.isExtra ? <p className="quiet">{CLASS_PAGE_WORDS.allHad}</p> : null}
      <ul className={turn.groups.length > MOST_LARGE ? 'next-groups many' : 'next-groups'}>
        {turn.groups.map((group) => (
          <li key={group.station}>
            <div>
              <h3>{CLASS_WORDS.station(group.station)}</h3>
              <button
                type="button"
                className="plain"
                aria-label={CLASS_PAGE_WORDS.of(CLASS_PAGE_WORDS.take, groupWords(group))}
                onClick={() => onTake(group)}
              >
                {CLASS_PAGE_WORDS.take}
              </button>
            </div>
            <dl>
              {ROLES.map((role) =>
                group[role] === null ? null : (
                  <div key={role}>
                    <dt>{CLASS_WORDS.roles[role]}</dt>
                    <dd className={role}>{group[role]}</dd>
                  </div>
                ),
              )}
            </dl>
          </li>
        ))}
      </ul>
      {turn.rest.length === 0 ? null : <p className="next-rest">{CLASS_PAGE_WORDS.waits(turn.rest)}</p>}
    </section>
  );
}
