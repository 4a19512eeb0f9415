import { type DrillSetup, FIRST_SETTINGS, type StationSettings } from '../../electron/contract.ts';
import {
  type BodyLine,
  type EdgeLine,
  formatLine,
  type Line,
  type OpenLine,
} from '../../machines/journal.ts';

export const OPENED_AT = '2026-03-02T09:30:00.000Z';
export const WINDOW_ID = 'aaaaaaaa-0000-4000-8000-000000000001';
export const OTHER_WINDOW_ID = 'bbbbbbbb-0000-4000-8000-000000000002';

/** Ids from a counter: 00000001-…, 00000002-… */
export function makeIds(): () => string {
  let count = 0;
  return () => {
    count += 1;
    return `${String(count).padStart(8, '0')}-0000-4000-8000-000000000000`;
  };
}

export function setupOf(changes: Partial<DrillSetup> = {}): DrillSetup {
  return {
    pattern: 'newborn-3-1',
    guideline: 'us-style',
    rig: 'manikin',
    airway: 'mask',
    binding: 'place',
    tolerance: 'standard',
    cycleMs: 2000,
    bounceMs: 25,
    sources: { chest: { kind: 'keyboard', stepMs: 1 }, airway: { kind: 'keyboard', stepMs: 1 } },
    people: { A: 'Ada', B: 'Ben' },
    roles: { compressor: 'A', ventilator: 'B' },
    technique: 'two-thumb',
    stance: 'foot-end',
    guidance: 'unled',
    ...changes,
  };
}

export function openLineOf(id: string = makeIds()()): OpenLine {
  return { kind: 'open', version: 1, id, openedAt: OPENED_AT, ...setupOf() };
}

export const SETTINGS: StationSettings = {
  ...FIRST_SETTINGS,
  people: { A: 'Ada', B: 'Ben' },
  switches: { chest: { kind: 'key', code: 'KeyF' }, airway: { kind: 'key', code: 'KeyJ' } },
  rig: 'manikin',
  guidance: 'led',
  cautionsReadAt: OPENED_AT,
};

export function edgeAt(at: number, down = true): EdgeLine {
  return { kind: 'edge', at, switch: 'chest', down };
}

/** Chest edges, down and up in turn, from 1 ms on, a millisecond apart. */
export function edges(count: number, from = 1): EdgeLine[] {
  return Array.from({ length: count }, (_, index) => edgeAt(from + index, (from + index) % 2 === 1));
}

/** A journal's text, each line with its newline. */
export function textOf(...lines: readonly Line[]): string {
  return lines.map((line) => `${formatLine(line)}\n`).join('');
}

/** Lines as a reader numbers them: the open line is 1. */
export function numbered(lines: readonly BodyLine[], first = 2): { number: number; line: BodyLine }[] {
  return lines.map((line, index) => ({ number: first + index, line }));
}
