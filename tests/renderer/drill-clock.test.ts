import { expect, test } from 'vitest';
import { DrillClock } from '../../renderer/adapters/drill-clock.ts';

test('a line has the time of its event since the drill was opened, with three decimals', () => {
  const clock = new DrillClock(1000.1, () => 0);
  expect(clock.lineAt(1500.3456)).toBe(500.246);
});

test('a line is never earlier than the line before it, nor than one that is on the disk', () => {
  const clock = new DrillClock(0, () => 0);
  clock.lineAt(800);
  expect(clock.lineAt(799.9)).toBe(800);
  clock.notBefore(900);
  expect(clock.lineAt(850)).toBe(900);
});

test('an event from before the drill was opened is at its 0, and nothing is later than a journal can say', () => {
  const clock = new DrillClock(5000, () => 5_000 + 90_000_000);
  expect(clock.lineAt(4990)).toBe(0);
  expect(clock.now()).toBe(86_400_000);
});

test('looking at the time moves no line', () => {
  const clock = new DrillClock(0, () => 2000);
  expect(clock.now()).toBe(2000);
  expect(clock.lineAt(1000)).toBe(1000);
});
