// @vitest-environment happy-dom
import { expect, onTestFinished, test, vi } from 'vitest';
import { pollFast } from '../../../renderer/switches/poll-loop.ts';

test('polling goes on after a look that failed, until it is stopped', () => {
  vi.useFakeTimers({ toFake: ['setTimeout'] });
  onTestFinished(() => {
    vi.useRealTimers();
  });
  let looks = 0;
  const stop = pollFast(window)(() => {
    looks += 1;
    if (looks === 1) throw new Error('the pad went away');
  });
  expect(() => vi.advanceTimersByTime(1)).toThrow('the pad went away');
  vi.advanceTimersByTime(5);
  expect(looks).toBeGreaterThan(2);
  stop();
  const atStop = looks;
  vi.advanceTimersByTime(5);
  expect(looks).toBe(atStop);
});
