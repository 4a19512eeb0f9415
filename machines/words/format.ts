import type { Figure } from '../scoring/figure.ts';
import { NOT_MEASURED } from './english.ts';

/** A figure as text with so many decimals, or "not measured". */
export function formatFigure(figure: Figure, decimals: number, unit = ''): string {
  if (typeof figure !== 'number') return NOT_MEASURED;
  return `${formatNumber(figure, decimals)}${unit}`;
}

/** A number with fixed decimals and a real minus sign; −0 is 0. */
export function formatNumber(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−');
}

/** Milliseconds as seconds for people: "4.2 s". */
export function formatSeconds(figure: Figure): string {
  return typeof figure === 'number' ? `${formatNumber(figure / 1000, 1)} s` : NOT_MEASURED;
}

/** A time of the drill as minutes and seconds: "1:05". */
export function formatClock(ms: number): string {
  const seconds = Math.max(0, Math.floor(ms / 1000));
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
}
