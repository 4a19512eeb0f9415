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
            aria-activedescendant={chosen === null ? undefined : 'row-chosen'}
            onMouseMove={(event) => setPointed(rowUnder(event))}
            onMouseLeave={() => setPointed(null)}
            onClick={(event) => setChosen(rowUnder(event) ?? chosen)}
            onKeyDown={(event) => {
              if (event.ctrlKey || event.altKey || event.metaKey) return;
              if (event.key.toUpperCase() === ROW_WORDS.leaveOutKey && chosen !== null && !event.repeat) {
                onLeaveOut(chosen, !isLeftOut(chosen));
                return;
              }
              const next = rowByKey(event.code, chosen, places.length);
              if (next === null) return;
              event.preventDefault();
              setChosen(next);
            }}
          >
            {pointed === null || pointed === chosen ? null : (
              <div className="row-shown" aria-hidden="true" style={placeOn(drawing, pointed)} />
            )}
            {chosen === null ? null : (
              <div
                className="row-shown"
                id="row-chosen"
                role="option"
                tabIndex={-1}
                aria-selected="true"
                aria-label={titleOf(chosen)}
                aria-posinset={chosen + 1}
                aria-setsize={places.length}
                ref={highlight}
                style={placeOn(drawing, chosen)}
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

/** Where a row is drawn, as shares of the drawing's height. */
function placeOn({ places, height }: Drawing, row: number): { top: string; height: string } {
  const place = places[row] ?? { y: 0, height: 0 };
  return { top: `${(100 * place.y) / height}%`, height: `${(100 * place.height) / height}%` };
}
