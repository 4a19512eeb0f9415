import fc from 'fast-check';
import { expect, test } from 'vitest';
import { HostOffset } from '../../renderer/adapters/host-offset.ts';

/** Pings over ways of given lengths, between a page's clock and a host's that is `apartMs` ahead and `ppm` faster. */
function ping(
  offset: HostOffset,
  fromPageMs: number,
  ways: readonly [number, number][],
  clock: Clock,
): number {
  let pageMs = fromPageMs;
  for (const [there, back] of ways) {
    offset.take(pageMs, hostTime(pageMs + there, clock), pageMs + there + back);
    pageMs += there + back + 5;
  }
  return pageMs;
}
type Clock = { apartMs: number; ppm: number };
const hostTime = (pageMs: number, { apartMs, ppm }: Clock) => apartMs + pageMs * (1 + ppm / 1e6);

test('of several pings the shortest round trip wins, and the error is half of it', () => {
  const offset = new HostOffset();
  ping(
    offset,
    1000,
    [
      [9, 1],
      [0.5, 0.5],
      [1, 30],
    ],
    { apartMs: 7000, ppm: 0 },
  );
  expect(offset.at(1016)?.offsetMs).toBeCloseTo(7000, 6);
  expect(offset.at(1016)?.errorMs).toBeCloseTo(0.5, 3);
});

test('clocks seconds apart that drift, over ways of unequal length: the truth is always within the stated error', () => {
  const way = fc.double({ min: 0.05, max: 80, noNaN: true });
  fc.assert(
    fc.property(
      fc.double({ min: -60_000, max: 60_000, noNaN: true }),
      fc.double({ min: -40, max: 40, noNaN: true }),
      fc.array(fc.array(fc.tuple(way, way), { minLength: 1, maxLength: 8 }), { minLength: 1, maxLength: 10 }),
      (apartMs, ppm, rounds) => {
        const offset = new HostOffset();
        const clock = { apartMs, ppm };
        for (const [number, ways] of rounds.entries()) {
          const afterMs = ping(offset, number * 30_000, ways, clock);
          for (const pageMs of [afterMs, afterMs + 20_000]) {
            const found = offset.at(pageMs);
            const offByMs = Math.abs((found?.offsetMs ?? Number.NaN) - (hostTime(pageMs, clock) - pageMs));
            expect(offByMs).toBeLessThanOrEqual((found?.errorMs ?? 0) + 1e-6);
          }
        }
      },
    ),
  );
});

test('measured again and again, a drift of a second an hour is followed to within a round trip', () => {
  const offset = new HostOffset();
  const clock = { apartMs: -3000, ppm: 40 };
  for (let minute = 0; minute < 60; minute += 1)
    ping(
      offset,
      minute * 60_000,
      [
        [1, 2],
        [2, 1],
      ],
      clock,
    );
  const pageMs = 59 * 60_000 + 20;
  expect(Math.abs((offset.at(pageMs)?.offsetMs ?? 0) - (hostTime(pageMs, clock) - pageMs))).toBeLessThan(3);
});

test('a clock that was set is believed at once, though the ping was slow', () => {
  const offset = new HostOffset();
  ping(offset, 0, [[0.1, 0.1]], { apartMs: 100, ppm: 0 });
  ping(offset, 1000, [[10, 10]], { apartMs: 2100, ppm: 0 });
  expect(offset.at(1020)?.offsetMs).toBeCloseTo(2100, 6);
});
