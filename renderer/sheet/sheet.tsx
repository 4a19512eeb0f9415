import type { ReactElement } from 'react';
import type { Drawing } from '../../machines/sheet-drawing.ts';
import { pathsOf, wordsOf } from '../../machines/sheet-paths.ts';

type SheetProps = { drawing: Drawing; label: string };

/** The sheet as a picture: the same drawing on the Floor, in the Debrief and on paper. Colours are the style sheet's. */
export function Sheet({ drawing, label }: SheetProps): ReactElement {
  return (
    <svg className="sheet" viewBox={`0 0 ${drawing.width} ${drawing.height}`} role="img" aria-label={label}>
      {pathsOf(drawing).map(({ ink, d }) => (
        <path key={ink} className={`ink-${ink}`} d={d} />
      ))}
      {wordsOf(drawing).map(({ ink, x, y, text }) => (
        <text key={`${x} ${y}`} className={`ink-${ink}`} x={x} y={y}>
          {text}
        </text>
      ))}
    </svg>
  );
}
