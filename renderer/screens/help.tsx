import { type ReactElement, type ReactNode, useCallback, useEffect, useRef, useState } from 'react';
import {
  ALL_CAUTIONS,
  HELP,
  HELP_PAGES,
  HELP_WORDS,
  type HelpPage,
} from '../../machines/words/help-words.ts';
import { type HelpKeys, listenForHelp } from '../adapters/help-keys.ts';
import { Folded } from '../components/folded.tsx';
import { HelpOpening } from '../components/help-opening.ts';

type WithHelpProps = {
  page: HelpPage;
  /** A drill is going on: help stands beside it, and takes neither focus nor keys but its own and Escape. */
  isBeside?: boolean;
  /** The walk through, in place of the screen until it is left; left out where there is none. */
  walk?: (onLeave: () => void) => ReactElement;
  children: ReactNode;
};

/** A screen with its cautions and help: opened by a key or a button, closed by Escape, and the focus back where it was. */
export function WithHelp({ page, isBeside = false, walk, children }: WithHelpProps): ReactElement {
  const [shown, setShown] = useState<'nothing' | 'help' | 'walk'>('nothing');
  const before = useRef<Element | null>(null);
  const open = useCallback(() => {
    before.current = document.activeElement;
    setShown('help');
  }, []);
  const close = useCallback(() => setShown('nothing'), []);
  useEffect(() => {
    if (shown !== 'nothing' || !(before.current instanceof HTMLElement)) return;
    before.current.focus({ preventScroll: true });
    before.current = null;
  }, [shown]);
  const keys = useRef<HelpKeys | null>(null);
  useEffect(() => {
    // The screen behind a walk through is there still: a call's key that it speaks of must not act on it.
    const isOver = shown === 'walk' || (shown === 'help' && !isBeside);
    const onEscape = shown === 'nothing' ? null : close;
    keys.current = { onToggle: onEscape ?? open, onEscape, isOver };
  }, [shown, open, close, isBeside]);
  // Once, so that pages which come later are heard later.
  useEffect(() => listenForHelp(window, () => keys.current), []);
  const text = (
    <HelpText
      page={page}
      isBeside={isBeside}
      onClose={close}
      onWalk={walk === undefined ? null : () => setShown('walk')}
    />
  );
  return (
    <>
      <div className="with-help" hidden={shown === 'walk'}>
        <HelpOpening value={open}>{children}</HelpOpening>
      </div>
      {shown === 'help' && isBeside ? (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls is reached by keyboard
        <aside className="help help-beside" aria-label={HELP_WORDS.title} tabIndex={0}>
          {text}
        </aside>
      ) : null}
      {shown === 'help' && !isBeside ? <HelpDialog onClose={close}>{text}</HelpDialog> : null}
      {shown === 'walk' ? walk?.(close) : null}
    </>
  );
}

function HelpDialog({ onClose, children }: { onClose: () => void; children: ReactNode }): ReactElement {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => dialog.current?.showModal(), []);
  return (
    <dialog
      ref={dialog}
      className="help"
      aria-label={HELP_WORDS.title}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
    >
      {children}
    </dialog>
  );
}

type HelpTextProps = {
  page: HelpPage;
  isBeside: boolean;
  onClose: () => void;
  onWalk: (() => void) | null;
};

function HelpText({ page, isBeside, onClose, onWalk }: HelpTextProps): ReactElement {
  const others = HELP_PAGES.filter((one) => one !== page);
  return (
    <>
      <header>
        <h2>{HELP[page].title}</h2>
        <button type="button" className="plain" onClick={onClose}>
          <span>{HELP_WORDS.close}</span> <kbd>{HELP_WORDS.closeKey}</kbd>
        </button>
      </header>
      {isBeside ? <p className="note">{HELP_WORDS.beside}</p> : null}
      <Points points={HELP[page].points} />
      {onWalk === null ? null : (
        <p>
          <button type="button" className="plain" onClick={onWalk}>
            {HELP_WORDS.walk}
          </button>{' '}
          <span className="note">{HELP_WORDS.walkNote}</span>
        </p>
      )}
      <h2>{HELP_WORDS.cautions}</h2>
      <Points points={ALL_CAUTIONS} />
      <h2>{HELP_WORDS.other}</h2>
      {others.map((one) => (
        <Folded key={one} title={HELP[one].title}>
          <Points points={HELP[one].points} />
        </Folded>
      ))}
    </>
  );
}

function Points({ points }: { points: readonly string[] }): ReactElement {
  return (
    <ul className="help-points">
      {points.map((point) => (
        <li key={point}>{point}</li>
      ))}
    </ul>
  );
}
