import { type ComponentProps, type ComponentType, type ReactElement, useEffect, useState } from 'react';
import { SCREEN_WORDS } from '../../machines/words/screens.ts';
import { MessagePage } from '../components/message-page.tsx';
import type { Debrief as DebriefScreen } from './debrief.tsx';
import type { WalkThrough as WalkScreen } from './walk-through.tsx';

/** A screen that is a file of its own and comes later than the window. Once it is there it is shown at once, without a wait. */
class LaterScreen<Props> {
  screen: ComponentType<Props> | null = null;
  private readonly fetch: () => Promise<ComponentType<Props>>;

  constructor(fetch: () => Promise<ComponentType<Props>>) {
    this.fetch = fetch;
  }

  /** Rejects when the file cannot be had. */
  async load(): Promise<ComponentType<Props>> {
    this.screen ??= await this.fetch();
    return this.screen;
  }
}

const debrief = new LaterScreen<ComponentProps<typeof DebriefScreen>>(
  async () => (await import('./debrief.tsx')).Debrief,
);
/** It plays a drill up to its Debrief, once in a station's life. */
const walk = new LaterScreen<ComponentProps<typeof WalkScreen>>(
  async () => (await import('./walk-through.tsx')).WalkThrough,
);

/** The Debrief with its figures, advice and pages for paper is a third of our part of the window: it comes once Set-up is on the screen. */
export async function loadDebrief(): Promise<void> {
  await debrief.load();
}

export function Debrief(props: ComponentProps<typeof DebriefScreen>): ReactElement {
  return <Later later={debrief} props={props} />;
}

export function WalkThrough(props: ComponentProps<typeof WalkScreen>): ReactElement {
  return <Later later={walk} props={props} />;
}

type LaterProps<Props> = { later: LaterScreen<Props>; props: Props };

function Later<Props extends object>({ later, props }: LaterProps<Props>): ReactElement {
  const [Screen, setScreen] = useState(() => later.screen);
  const [failure, setFailure] = useState<unknown>(null);
  useEffect(() => {
    if (Screen === null)
      later.load().then(
        (loaded) => setScreen(() => loaded),
        (error: unknown) => setFailure(error),
      );
  }, [later, Screen]);
  // What catches a broken screen says so, as for any other.
  if (failure !== null) throw failure;
  if (Screen === null) return <MessagePage title={SCREEN_WORDS.product} text={SCREEN_WORDS.oneMoment} />;
  return <Screen {...props} />;
}
