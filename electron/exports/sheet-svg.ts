import type { Drawing } from '../../machines/sheet-drawing.ts';
import { pathsOf, wordsOf } from '../../machines/sheet-paths.ts';
import { escapeMarkup } from './markup.ts';

/** The sheet as an SVG element; its colours come from the page's classes `ink-…`. */
export function sheetSvg(drawing: Drawing): string {
  const { width, height } = drawing;
  const paths = pathsOf(drawing).map(({ ink, d }) => `<path class="ink-${ink}" d="${d}"/>`);
  const words = wordsOf(drawing).map(
    ({ ink, x, y, text }) => `<text class="ink-${ink}" x="${x}" y="${y}">${escapeMarkup(text)}</text>`,
  );
  return `<svg class="sheet" viewBox="0 0 ${width} ${height}" role="img" aria-label="The sheet: a row a cycle" xmlns="http://www.w3.org/2000/svg">${paths.join('')}${words.join('')}</svg>`;
}
