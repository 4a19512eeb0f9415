import { expect, test } from 'vitest';
import type { Plan } from '../../machines/plans/plan.ts';
import { practise, rest } from '../../machines/plans/ready-made.ts';
import { OTHER_WINDOW_ID, WINDOW_ID } from '../support/drills.ts';
import { StationOnFakeClock, type WindowOnHost } from '../support/window-on-host.ts';

const EXACT = { apartMs: 0, ppm: 0, thereMs: 1, backMs: 1 };
const UNLED = { guidance: 'unled' } as const;
const ITSELF = { by: 'itself', warningSeconds: 5 } as const;
const PLAN: Plan = {
  kind: 'antiphon-plan',
  version: 1,
  name: 'Legs without calls',
  words: { learners: '', instructor: '' },
  begin: { by: 'instructor' },
  legs: [
    practise({ ...UNLED, seconds: 20, next: ITSELF }),
    practise({ ...UNLED, seconds: 20, next: ITSELF }),
    practise({ ...UNLED, seconds: 20, compressor: 'swap', next: ITSELF }),
    { ...rest(20), next: { by: 'instructor' } },
    practise({ ...UNLED, seconds: 20, next: { by: 'instructor' } }),
  ],
};

async function begin(plan = PLAN) {
  const station = new StationOnFakeClock();
  const one = await station.open(WINDOW_ID, EXACT, { plan });
  let windows = [one];
  /** Lets all windows tick up to a time, on the station's clock. */
  const until = async (ms: number) => {
    for (let atMs = station.clock.now(); atMs < ms; atMs = Math.min(ms, atMs + 250)) {
      for (const { session } of windows) session.tick();
      await station.clock.runUntil(Math.min(ms, atMs + 250));
    }
    for (const { session } of windows) session.tick();
  };
  const join = async () => {
    const other = await station.join(OTHER_WINDOW_ID, { ...EXACT, apartMs: 4000 });
    windows = [...windows, other];
    other.session.tick();
    return other;
  };
  const kill = (window: WindowOnHost) => {
    windows = windows.filter((one) => one !== window);
    window.kill();
  };
  const callsAndLegs = async () =>
    (await station.lines(one.session.opened.drillId)).flatMap((line) => {
      if (line.kind === 'device') return [`${line.what} ${line.leg}`];
      return line.kind === 'call' ? [line.call] : [];
    });
  const compressorOf = ({ session }: WindowOnHost) => session.driver.snapshot.context.called.roles.compressor;
  const swapCount = async () => (await callsAndLegs()).filter((word) => word === 'swap').length;
  await until(100);
  return { station, one, until, join, kill, callsAndLegs, compressorOf, swapCount };
}

function standing({ session }: WindowOnHost): unknown {
  const view = session.plan?.viewAt(session.clock.now());
  return [view?.state, view?.leg?.index, Math.round((view?.leftMs ?? 0) / 100) / 10];
}
const next = (window: WindowOnHost) => window.session.callNextLeg(window.pageNow());

test('a leg asked for early, that asks for no call, is on in a window that comes later', async () => {
  const { one, until, join } = await begin();
  next(one);
  await until(10_000);
  next(one);
  await until(13_000);
  const other = await join();
  expect([standing(one), standing(other)]).toEqual([
    ['running', 1, 17],
    ['running', 1, 17],
  ]);
});

test('a leg that began by itself with no call is on, and as long, in a window that comes later', async () => {
  const { station, one, until, join, kill, callsAndLegs } = await begin();
  next(one);
  await until(30_000);
  kill(one);
  await station.clock.runUntil(33_000);
  const other = await join();
  expect(standing(other)).toEqual(['running', 1, 7.1]);
  await until(41_000);
  expect(await callsAndLegs()).toEqual(['plan-next 0', 'begin', 'plan-leg 1', 'plan-leg 2', 'swap']);
});

test('the next leg is asked for in any window, and the one that makes the calls makes them, once', async () => {
  const { one, until, join, callsAndLegs } = await begin();
  const other = await join();
  next(other);
  await until(10_000);
  next(other);
  await until(12_000);
  next(one);
  next(other);
  await until(13_000);
  expect(await callsAndLegs()).toEqual([
    'plan-next 0',
    'begin',
    'plan-next 1',
    'plan-next 2',
    'plan-next 2',
    'swap',
  ]);
  expect([standing(one), standing(other)]).toEqual([
    ['running', 2, 19],
    ['running', 2, 19],
  ]);
});

test('two quick keys ask for two legs, and the call that sets the pair going is made', async () => {
  const { one, until, callsAndLegs } = await begin();
  next(one);
  await until(1000);
  next(one);
  next(one);
  await until(2000);
  next(one);
  next(one);
  await until(4000);
  expect(standing(one)).toEqual(['running', 4, 18]);
  expect((await callsAndLegs()).filter((word) => !word.startsWith('plan'))).toEqual([
    'begin',
    'swap',
    'rest',
    'resume',
  ]);
});

test.each([-1, 0, 1])(
  'a swap by hand in another window %i ms after the plan’s: the one whom the leg asks for compresses',
  async (afterMs) => {
    for (const by of ['itself', 'instructor'] as const) {
      const called = by === 'itself' ? ITSELF : ({ by } as const);
      const { station, one, until, join, kill, compressorOf, swapCount } = await begin({
        ...PLAN,
        legs: [
          practise({ ...UNLED, seconds: 20, next: ITSELF }),
          practise({ ...UNLED, seconds: 20, compressor: 'swap', next: called }),
          practise({ ...UNLED, seconds: 20, compressor: 'swap', next: ITSELF }),
        ],
      });
      const other = await join();
      const startMs = station.clock.now();
      next(one);
      await until(startMs + 20_000 + afterMs);
      other.session.call({ call: 'swap' }, other.pageNow());
      await until(25_000);
      expect([standing(one), standing(other)].map((words) => (words as unknown[])[1])).toEqual([1, 1]);
      expect([compressorOf(one), compressorOf(other)]).toEqual(['B', 'B']);
      expect(await swapCount()).toBe(afterMs < 0 ? 1 : 3);
      kill(other);
      expect(standing(await join())).toEqual(standing(one));
    }
  },
);

const WARNED: Plan = {
  ...PLAN,
  legs: [
    practise({ ...UNLED, seconds: 20, next: ITSELF }),
    practise({ ...UNLED, seconds: 20, compressor: 'swap', technique: 'two-finger', next: ITSELF }),
  ],
};

test('a warning is said once, by the window that gives the count alone', async () => {
  const { one, until, join } = await begin(WARNED);
  const other = await join();
  next(one);
  await until(14_000);
  expect(one.warnings).toEqual([]);
  await until(19_500);
  expect(one.warnings).toEqual(['swap two-finger soon']);
  await until(41_000);
  expect([one.warnings, other.warnings]).toEqual([
    ['swap two-finger soon', 'no more', 'finish soon', 'no more'],
    ['no more', 'no more'],
  ]);
});

test('a warning that a rest undoes is taken back, and said again after it', async () => {
  const { one, until } = await begin(WARNED);
  next(one);
  await until(16_000);
  one.session.call({ call: 'rest' }, one.pageNow());
  await until(18_000);
  expect(one.warnings).toEqual(['swap two-finger soon', 'no more']);
  one.session.call({ call: 'resume' }, one.pageNow());
  await until(19_000);
  expect(one.warnings.slice(2)).toEqual(['swap two-finger soon']);
});

test('a leg that warns of its end from its beginning follows another of the same: each is said', async () => {
  const short = { seconds: 5, next: ITSELF } as const;
  const { one, until } = await begin({
    ...PLAN,
    legs: [practise({ ...UNLED, ...short }), { ...rest(5), ...short }, practise({ ...UNLED, ...short })],
  });
  next(one);
  await until(18_000);
  expect(one.warnings).toEqual(['rest soon', 'resume soon', 'finish soon', 'no more']);
});

test('a window that gives the count from the middle of a warning on does not say it again', async () => {
  const { one, until, join, kill } = await begin(WARNED);
  const other = await join();
  next(one);
  await until(17_000);
  kill(one);
  await until(41_000);
  expect(other.warnings).toEqual(['no more', 'finish soon', 'no more']);
});
