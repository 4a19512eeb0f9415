import { type MouseEvent, type ReactElement, useEffect, useRef, useState } from 'react';
import type { Drawing } from '../../machines/sheet-drawing.ts';
import { ROW_WORDS } from '../../machines/words/row-words.ts';
import { rowAt, rowByKey } from './row-at.ts';
import { Sheet } from './sheet.tsx';

type RowSheetProps = {
  drawing: Drawing;
  label: string;
  /** What happened in a row, in one line. */
  titleOf: (row: number) => string;
  /** A row's figures. */
  figuresOf: (row: number) => readonly string[];
  /** Is the row left out? */
  isLeftOut: (row: number) => boolean;
  /** The instructor leaves the chosen row out, or takes that back. */
  onLeaveOut: (row: number, isLeftOut: boolean) => void;
};

const LEAVE_OUT_CODE = `Key${ROW_WORDS.leaveOutKey}`;

/** The sheet whose rows can be pointed at, or chosen by click and by arrow keys: the row's figures stand below it. */
export function RowSheet(props: RowSheetProps): ReactElement {
  const { drawing, label, titleOf, figuresOf, isLeftOut, onLeaveOut } = props;
  const [chosen, setChosen] = useState<number | null>(null);
  const [pointed, setPointed] = useState<number | null>(null);
  const highlight = useRef<HTMLDivElement>(null);
  const note = useRef<HTMLDivElement>(null);
  const { places, height } = drawing;
  const shown = pointed ?? chosen;
  useEffect(() => {
    if (chosen === null || highlight.current === null) return;
    // The note stands over the window's foot: what is behind it is not in sight.
    highlight.current.style.scrollMarginBottom = `${note.current?.offsetHeight ?? 0}px`;
    highlight.current.scrollIntoView({ block: 'nearest' });
  }, [chosen]);
  const rowUnder = (event: MouseEvent<HTMLElement>) => {
    const box = event.currentTarget.getBoundingClientRect();
    return box.height === 0 ? null : rowAt(places, ((event.clientY - box.top) * height) / box.height);
  };
  const place = shown === null ? undefined : places[shown];
  return (
    <>
      <div className="sheet-scroll">
        <div className="sheet-rows">
          <Sheet drawing={drawing} label={label} />
          <div
            className="row-choice"
            role="listbox"
            tabIndex={0}
            aria-label={ROW_WORDS.rowsInList}
            aria-activedescendant={place === undefined ? undefined : 'row-shown'}
            onMouseMove={(event) => setPointed(rowUnder(event))}
            onMouseLeave={() => setPointed(null)}
            onClick={(event) => setChosen(rowUnder(event) ?? chosen)}
            onKeyDown={(event) => {
              if (event.ctrlKey || event.altKey || event.metaKey) return;
              if (event.code === LEAVE_OUT_CODE && chosen !== null && !event.repeat) {
                onLeaveOut(chosen, !isLeftOut(chosen));
                return;
              }
              const next = rowByKey(event.code, chosen, places.length);
              if (next === null) return;
              event.preventDefault();
              setChosen(next);
            }}
          >
            {shown === null || place === undefined ? null : (
              <div
                className="row-shown"
                id="row-shown"
                role="option"
                tabIndex={-1}
                aria-selected={shown === chosen}
                aria-label={titleOf(shown)}
                aria-posinset={shown + 1}
                aria-setsize={places.length}
                ref={highlight}
                style={{ top: share(place.y, height), height: share(place.height, height) }}
              />
            )}
          </div>
        </div>
      </div>
      <div className="row-note" ref={note}>
        {shown === null ? (
          <p className="quiet">{ROW_WORDS.choose}</p>
        ) : (
          <>
            <p className="row-title">{titleOf(shown)}</p>
            <p className="quiet">{figuresOf(shown).join('; ')}</p>
          </>
        )}
        {chosen === null ? null : (
          <button type="button" className="plain" onClick={() => onLeaveOut(chosen, !isLeftOut(chosen))}>
            <span>{isLeftOut(chosen) ? ROW_WORDS.count : ROW_WORDS.leaveOut}</span>{' '}
            <kbd>{ROW_WORDS.leaveOutKey}</kbd>
          </button>
        )}
      </div>
    </>
  );
}

function share(part: number, whole: number): string {
  return `${(100 * part) / whole}%`;
}
