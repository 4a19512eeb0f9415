import { type ComponentProps, type ComponentType, lazy, type ReactElement, Suspense } from 'react';
import { SCREEN_WORDS } from '../../machines/words/screens.ts';
import { MessagePage } from '../components/message-page.tsx';

/** The Debrief with its figures, advice and pages for paper is a third of our part of the window: it comes once Set-up is on the screen. */
export const loadDebrief = () => import('./debrief.tsx');

const LoadedDebrief = lazy(async () => ({ default: (await loadDebrief()).Debrief }));
/** It plays a drill up to its Debrief, once in a station's life. */
const LoadedWalk = lazy(async () => ({ default: (await import('./walk-through.tsx')).WalkThrough }));

export function Debrief(props: ComponentProps<typeof LoadedDebrief>): ReactElement {
  return <Later screen={LoadedDebrief} props={props} />;
}

export function WalkThrough(props: ComponentProps<typeof LoadedWalk>): ReactElement {
  return <Later screen={LoadedWalk} props={props} />;
}

type LaterProps<Props> = { screen: ComponentType<Props>; props: Props };

function Later<Props extends object>({ screen: Screen, props }: LaterProps<Props>): ReactElement {
  return (
    <Suspense fallback={<MessagePage title={SCREEN_WORDS.product} text={SCREEN_WORDS.oneMoment} />}>
      <Screen {...props} />
    </Suspense>
  );
}
