import { Component, type ReactNode } from 'react';
import { SCREEN_WORDS } from '../../machines/words/screens.ts';
import { MessagePage } from '../components/message-page.tsx';

/** A mistake of ours shows a readable page, never a blank window. React has no hook for this. */
export class CatchBroken extends Component<{ children: ReactNode }, { isBroken: boolean }> {
  override state = { isBroken: false };

  static getDerivedStateFromError(): { isBroken: boolean } {
    return { isBroken: true };
  }

  override render(): ReactNode {
    if (!this.state.isBroken) return this.props.children;
    return <MessagePage title={SCREEN_WORDS.brokenTitle} text={SCREEN_WORDS.broken} />;
  }
}
