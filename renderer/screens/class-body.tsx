import { type ReactElement, useEffect, useRef, useState } from 'react';
import {
  withNames,
  withoutLastTurn,
  withPresence,
  withTurnHeld,
} from '../../machines/class/class-changes.ts';
import type { ClassFile } from '../../machines/class/class-file.ts';
import { MOST_PEOPLE } from '../../machines/class/names.ts';
import type { Group } from '../../machines/class/turn.ts';
import type { ClassTurns } from '../../machines/class/turns.ts';
import { CLASS_WORDS, limitWords, nameNoticeWords, turnsWords } from '../../machines/words/class-words.ts';
import { PAPER_WORDS, type PaperSize } from '../../machines/words/paper-words.ts';
import { CLASS_PAGE_WORDS } from '../../machines/words/screen-class.ts';
import type { UnledSource } from '../app/unled-today.ts';
import { Choice, optionsOf } from '../components/choice.tsx';
import { Folded } from '../components/folded.tsx';
import { ClassNext } from './class-next.tsx';
import { ClassPeople } from './class-people.tsx';
import { ClassTurnsTable } from './class-turns-table.tsx';
import { ClassUnled } from './class-unled.tsx';

type ClassBodyProps = {
  stored: ClassFile;
  plan: ClassTurns;
  readUnled: UnledSource;
  paper: PaperSize;
  onPaper: (size: PaperSize) => void;
  /** Saves the list as a PDF; left out where the browser prints. */
  onSave?: () => void;
  /** `said`: what the one who changed it has to know. */
  onChange: (after: ClassFile, said?: readonly string[]) => void;
  onTake: (group: Group) => void;
};

/** From what the room has to see now to what the instructor has to see to. */
export function ClassBody(props: ClassBodyProps): ReactElement {
  const { stored, plan, readUnled, paper, onPaper, onSave, onChange, onTake } = props;
  const next = plan.turns[0];
  const [additions, setAdditions] = useState(0);
  const nextRef = useRef<HTMLHeadingElement>(null);
  const heldRef = useRef<HTMLButtonElement>(null);
  const namesRef = useRef<HTMLTextAreaElement>(null);
  const peopleRef = useRef<HTMLHeadingElement>(null);
  const isEmpty = stored.people.length === 0;
  // The page has just been opened for what comes next; without anybody, the names are what is next.
  useEffect(() => heldRef.current?.focus(), []);
  useEffect(() => {
    if (isEmpty) namesRef.current?.focus();
  }, [isEmpty]);
  // Names were added: the turns that came of them are there only after that.
  useEffect(() => {
    if (additions > 0) (nextRef.current ?? namesRef.current)?.focus();
  }, [additions]);
  const held = stored.done.length;
  const limit = limitWords(plan.limit);
  const setPresence = (name: string, isHere: boolean) => {
    const after = withPresence(stored, name, isHere);
    if (after === stored) return onChange(stored, [CLASS_PAGE_WORDS.full(MOST_PEOPLE)]);
    const isGone = !after.people.some((person) => person.name === name);
    if (isGone) peopleRef.current?.focus();
    onChange(after, isGone ? [CLASS_PAGE_WORDS.takenOut(name)] : []);
  };
  return (
    <>
      {next === undefined ? (
        <p>{limit}</p>
      ) : (
        <ClassNext
          turn={next}
          turnMinutes={plan.turnMinutes}
          held={held}
          headingRef={nextRef}
          heldRef={heldRef}
          onHeld={() => onChange(withTurnHeld(stored, next.groups), [CLASS_PAGE_WORDS.nowHeld(next.number)])}
          onTakeBack={() => {
            if (held === 1) heldRef.current?.focus();
            onChange(withoutLastTurn(stored), [CLASS_PAGE_WORDS.takenBack(held)]);
          }}
          onTake={onTake}
        />
      )}
      {next === undefined || limit === null ? null : <p className="quiet">{limit}</p>}
      {isEmpty ? null : <ClassUnled people={stored.people} read={readUnled} />}
      <ClassPeople
        stored={stored}
        namesRef={namesRef}
        headingRef={peopleRef}
        isFirst={next === undefined}
        onNames={(text) => {
          const { after, notices } = withNames(stored, text);
          onChange(after, notices.map(nameNoticeWords));
          setAdditions(additions + 1);
        }}
        onPresence={setPresence}
        onChange={onChange}
      />
      {next === undefined ? null : (
        <section className="class-plan" aria-labelledby="class-plan">
          <h2 id="class-plan">{CLASS_PAGE_WORDS.toCome}</h2>
          <p>{turnsWords(plan)}.</p>
          <p className="note">{CLASS_WORDS.roleNote}</p>
          <ClassTurnsTable turns={plan.turns} label={CLASS_PAGE_WORDS.toCome} />
          <div className="paper-choice">
            <Choice
              legend={PAPER_WORDS.size}
              name="class-paper-size"
              options={optionsOf(PAPER_WORDS.sizes)}
              value={paper}
              onChange={onPaper}
            />
            <button type="button" className="plain" onClick={() => window.print()}>
              {CLASS_PAGE_WORDS.print}
            </button>
            {onSave === undefined ? null : (
              <button type="button" className="plain" onClick={onSave}>
                {PAPER_WORDS.save}
              </button>
            )}
          </div>
        </section>
      )}
      {held === 0 ? null : (
        <Folded title={CLASS_PAGE_WORDS.heldTurns(held)}>
          <ClassTurnsTable
            turns={stored.done.map(({ groups }, index) => ({ number: index + 1, groups }))}
            label={CLASS_PAGE_WORDS.heldTurns(held)}
          />
        </Folded>
      )}
    </>
  );
}
