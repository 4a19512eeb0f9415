import type { ReactElement } from 'react';
import type { Drawing } from '../../machines/sheet-drawing.ts';
import { Sheet } from './sheet.tsx';

type ScrollingSheetProps = { drawing: Drawing; title: string; label: string };

/** The sheet in a place that scrolls sideways where the window is too narrow for it, by keyboard too. */
export function ScrollingSheet({ drawing, title, label }: ScrollingSheetProps): ReactElement {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard
    <section className="sheet-scroll" tabIndex={0} aria-label={title}>
      <Sheet drawing={drawing} label={label} />
    </section>
  );
}
