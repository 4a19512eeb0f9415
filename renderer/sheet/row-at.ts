import type { RowPlace } from '../../machines/sheet-drawing.ts';

/** The index among `places` (in order of y) of the row drawn at a height, in the drawing's units; null between and outside rows. */
export function rowAt(places: readonly RowPlace[], y: number): number | null {
  let low = 0;
  let high = places.length - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const place = places[middle];
    if (place === undefined) return null;
    if (y < place.y) high = middle - 1;
    else if (y >= place.y + place.height) low = middle + 1;
    else return middle;
  }
  return null;
}

const PAGE = 10;

/** Where an arrow or paging key goes from a row; null: the key is for something else. Without a row, to the first. */
export function rowByKey(code: string, from: number | null, rows: number): number | null {
  const steps: Record<string, number> = {
    ArrowDown: 1,
    ArrowUp: -1,
    PageDown: PAGE,
    PageUp: -PAGE,
    Home: -rows,
    End: rows,
  };
  const step = steps[code];
  if (step === undefined || rows === 0) return null;
  return from === null ? 0 : Math.max(0, Math.min(rows - 1, from + step));
}
