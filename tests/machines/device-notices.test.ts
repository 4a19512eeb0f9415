import { expect, it } from 'vitest';
import type { BodyLine } from '../../machines/journal.ts';
import { deviceNotices } from '../../machines/words/device-notices.ts';
import { numbered } from '../support/drills.ts';

const PEOPLE = { people: { A: 'Ada', B: 'Ben' } };
const device = (at: number, what: string, name: string): BodyLine => ({
  kind: 'device',
  at,
  what,
  switch: name,
});
const edge = (at: number, down: boolean): BodyLine => ({ kind: 'edge', at, switch: 'chest', down });
const said = (nowMs: number, ...lines: BodyLine[]) =>
  deviceNotices(PEOPLE, numbered(lines), nowMs, (code) => `«${code}»`).map((notice) => notice.split(':')[0]);

it('says that a switch is unplugged until it is plugged in, and then that it is', () => {
  const lines = [device(1000, 'unplugged', 'chest'), device(50_000, 'plugged-in', 'chest')];
  expect(said(49_000, lines[0] as BodyLine)).toEqual(['The chest switch is unplugged']);
  expect(said(51_000, ...lines)).toEqual(['The chest switch is plugged in.']);
  expect(said(61_000, ...lines)).toEqual([]);
});

it('says that a switch is stuck until it moves, and that it is silent until it is pressed', () => {
  const stuck = [edge(0, true), device(1, 'stuck', 'chest')];
  expect(said(90_000, ...stuck)).toEqual(['The chest switch has been down for more than three seconds']);
  expect(said(90_000, ...stuck, edge(89_000, false))).toEqual([]);
  const silent = [device(1, 'silent', 'chest')];
  expect(said(90_000, ...silent)).toEqual([
    'No press of the chest switch was registered in the whole of the last bout',
  ]);
  expect(said(90_000, ...silent, edge(89_000, true))).toEqual([]);
});

it('says for a while that a line of one window came late', () => {
  const late: BodyLine = { kind: 'device', at: 1000, what: 'late', lateMs: 90.2 };
  expect(said(2000, late)).toEqual(['A line of one window came late']);
  expect(said(12_000, late)).toEqual([]);
});

it('names the person where each keeps a switch, and the key that is nobody’s', () => {
  expect(said(2000, device(1000, 'silent', 'B'), device(1500, 'third-key', 'KeyM'))).toEqual([
    'No press of Ben’s switch was registered in the whole of the last bout',
    'A third key was pressed («KeyM»). It is noted and not counted.',
  ]);
});
