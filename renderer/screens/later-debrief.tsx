import { type ComponentProps, lazy, type ReactElement, Suspense } from 'react';
import { SCREEN_WORDS } from '../../machines/words/screens.ts';
import { MessagePage } from '../components/message-page.tsx';

/** The Debrief with its figures, advice and pages for paper is a third of our part of the window: it comes once Set-up is on the screen. */
export const loadDebrief = () => import('./debrief.tsx');

const Loaded = lazy(async () => ({ default: (await loadDebrief()).Debrief }));

export function Debrief(props: ComponentProps<typeof Loaded>): ReactElement {
  return (
    <Suspense fallback={<MessagePage title={SCREEN_WORDS.product} text={SCREEN_WORDS.oneMoment} />}>
      <Loaded {...props} />
    </Suspense>
  );
}
