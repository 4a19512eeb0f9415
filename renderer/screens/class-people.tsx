import { type ReactElement, type RefObject, useState } from 'react';
import { personsOf } from '../../machines/class/class-changes.ts';
import type { ClassFile } from '../../machines/class/class-file.ts';
import { MOST_STATIONS, TURN_MINUTES } from '../../machines/class/turn.ts';
import { CLASS_PAGE_WORDS } from '../../machines/words/screen-class.ts';
import { NumberField } from '../components/labelled-fields.tsx';

type ClassPeopleProps = {
  stored: ClassFile;
  namesRef: RefObject<HTMLTextAreaElement | null>;
  headingRef: RefObject<HTMLHeadingElement | null>;
  /** Nothing else is to be done on the page before it. */
  isFirst: boolean;
  onNames: (text: string) => void;
  onPresence: (name: string, isHere: boolean) => void;
  onChange: (after: ClassFile) => void;
};

const NUMBERS = {
  stations: { label: CLASS_PAGE_WORDS.stations, least: 1, most: MOST_STATIONS },
  turnMinutes: { label: CLASS_PAGE_WORDS.minutes, least: TURN_MINUTES.least, most: TURN_MINUTES.most },
} as const;

/** Who is here, who comes and who leaves; how many stations, and how long a turn is. */
export function ClassPeople(props: ClassPeopleProps): ReactElement {
  const { stored, namesRef, headingRef, isFirst, onNames, onPresence, onChange } = props;
  const [text, setText] = useState('');
  const [wrong, setWrong] = useState<keyof typeof NUMBERS | null>(null);
  const here = stored.people.filter(({ isHere }) => isHere).length;
  const numberField = (which: keyof typeof NUMBERS) => (
    <NumberField
      label={NUMBERS[which].label}
      value={stored[which]}
      onChange={(value) => {
        const { least, most } = NUMBERS[which];
        const isRight = value !== null && Number.isInteger(value) && value >= least && value <= most;
        setWrong(isRight ? null : which);
        if (isRight) onChange({ ...stored, [which]: value });
      }}
    />
  );
  return (
    <section aria-labelledby="class-people">
      <h2 id="class-people" tabIndex={-1} ref={headingRef}>
        {CLASS_PAGE_WORDS.people} <span className="quiet">{CLASS_PAGE_WORDS.here(here)}</span>
      </h2>
      <form
        className="class-form"
        onSubmit={(event) => {
          event.preventDefault();
          if (text.trim() === '') return namesRef.current?.focus();
          onNames(text);
          setText('');
        }}
      >
        <label className="class-names">
          <span className="field-label">
            {stored.people.length === 0 ? CLASS_PAGE_WORDS.names : CLASS_PAGE_WORDS.latecomers}
          </span>
          <textarea
            ref={namesRef}
            rows={stored.people.length === 0 ? 8 : 2}
            value={text}
            maxLength={LONGEST_PASTE}
            autoComplete="off"
            spellCheck={false}
            onChange={({ target }) => setText(target.value)}
          />
        </label>
        <div className="class-numbers">
          {numberField('stations')}
          {numberField('turnMinutes')}
        </div>
        <p className="problem" role="alert">
          {wrong === null
            ? null
            : CLASS_PAGE_WORDS.notWhole(NUMBERS[wrong].label, NUMBERS[wrong].least, NUMBERS[wrong].most)}
        </p>
        <button type="submit" className={isFirst ? 'primary' : 'plain'}>
          {CLASS_PAGE_WORDS.add}
        </button>
        <p className="note">
          {CLASS_PAGE_WORDS.namesNote} {stored.people.length === 0 ? null : CLASS_PAGE_WORDS.midTurn}
        </p>
      </form>
      <ul className="class-people">
        {personsOf(stored).map(({ name, isHere }) => {
          const action = isHere ? CLASS_PAGE_WORDS.left : CLASS_PAGE_WORDS.hereAgain;
          return (
            <li key={name}>
              <span className={isHere ? undefined : 'quiet'}>
                {name}
                {isHere ? null : ` ${CLASS_PAGE_WORDS.hasLeft}`}
              </span>{' '}
              <button
                type="button"
                className="plain"
                aria-label={CLASS_PAGE_WORDS.of(action, name)}
                onClick={() => onPresence(name, !isHere)}
              >
                {action}
              </button>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

/** Tool default: many times what a class's names are. */
const LONGEST_PASTE = 20_000;
