import type { MessageBoxOptions } from 'electron';
import { type AboutFacts, aboutWords, DESKTOP_WORDS } from '../machines/words/desktop.ts';
import type { Question } from './page-recovery.ts';

/** The about box; its second button shows the licences. */
export function aboutBox(facts: AboutFacts): MessageBoxOptions {
  return {
    type: 'info',
    title: DESKTOP_WORDS.about,
    message: DESKTOP_WORDS.name,
    detail: aboutWords(facts),
    buttons: [DESKTOP_WORDS.close, DESKTOP_WORDS.licences],
    defaultId: 0,
    cancelId: 0,
    noLink: true,
  };
}

/** A question about a window. Enter and Esc choose the first answer, which changes nothing. */
export function questionBox({ title, words, answers, signal }: Question): MessageBoxOptions {
  return {
    type: 'warning',
    title,
    message: title,
    detail: words,
    buttons: [...answers],
    defaultId: 0,
    cancelId: 0,
    noLink: true,
    ...(signal === undefined ? {} : { signal }),
  };
}
