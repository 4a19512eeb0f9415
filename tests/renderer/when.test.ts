// @vitest-environment node
import { afterEach, expect, test, vi } from 'vitest';

afterEach(() => {
  vi.unstubAllEnvs();
  vi.resetModules();
});

test.each([
  ['America/New_York', '1 Mar 2026', '31 Mar 2026'],
  ['Pacific/Auckland', '2 Mar 2026', '1 Apr 2026'],
])('in %s a day so many days later is counted from the day that is shown', async (zone, shown, due) => {
  vi.stubEnv('TZ', zone);
  const { formatDayAfter, formatShortDay } = await import('../../renderer/components/when.ts');
  const openedAt = '2026-03-02T03:30:00.000Z';
  expect([formatShortDay(openedAt), formatDayAfter(openedAt, 30)]).toEqual([shown, due]);
});
