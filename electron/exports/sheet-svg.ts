import type { Drawing, Shape } from '../../machines/sheet-drawing.ts';
import { escapeMarkup } from './markup.ts';

/** The sheet as an SVG element; its colours come from the page's classes `ink-…`. */
export function sheetSvg(drawing: Drawing): string {
  const { width, height } = drawing;
  const shapes = drawing.shapes.map(shapeMarkup).join('');
  return `<svg class="sheet" viewBox="0 0 ${width} ${height}" role="img" aria-label="The sheet: a row a cycle" xmlns="http://www.w3.org/2000/svg">${shapes}</svg>`;
}

function shapeMarkup(shape: Shape): string {
  const ink = `class="ink-${shape.ink}"`;
  switch (shape.kind) {
    case 'bar':
      return `<rect ${ink} x="${shape.x}" y="${shape.y}" width="${shape.width}" height="${shape.height}"/>`;
    case 'pill':
      return `<rect ${ink} x="${shape.x}" y="${shape.y}" width="${shape.width}" height="${shape.height}" rx="${shape.height / 2}"/>`;
    case 'line':
      return `<line ${ink} x1="${shape.x}" x2="${shape.x}" y1="${shape.y1}" y2="${shape.y2}"/>`;
    case 'words':
      return `<text ${ink} x="${shape.x}" y="${shape.y}">${escapeMarkup(shape.text)}</text>`;
  }
}
