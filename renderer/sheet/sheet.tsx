import type { ReactElement } from 'react';
import type { Drawing, Shape } from '../../machines/sheet-drawing.ts';

type SheetProps = { drawing: Drawing; label: string };

/** The sheet as a picture: the same drawing on the Floor, in the Debrief and on paper. Colours are the style sheet's. */
export function Sheet({ drawing, label }: SheetProps): ReactElement {
  return (
    <svg className="sheet" viewBox={`0 0 ${drawing.width} ${drawing.height}`} role="img" aria-label={label}>
      {drawing.shapes.map((shape, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a shape has no name but its place in the drawing
        <SheetShape key={index} shape={shape} />
      ))}
    </svg>
  );
}

function SheetShape({ shape }: { shape: Shape }): ReactElement {
  const className = `ink-${shape.ink}`;
  switch (shape.kind) {
    case 'bar':
      return <rect className={className} x={shape.x} y={shape.y} width={shape.width} height={shape.height} />;
    case 'pill':
      return (
        <rect
          className={className}
          x={shape.x + 1}
          y={shape.y + 1}
          width={Math.max(1, shape.width - 2)}
          height={shape.height - 2}
          rx={(shape.height - 2) / 2}
        />
      );
    case 'line':
      return <line className={className} x1={shape.x} x2={shape.x} y1={shape.y1} y2={shape.y2} />;
    case 'words':
      return (
        <text className={className} x={shape.x} y={shape.y}>
          {shape.text}
        </text>
      );
  }
}
