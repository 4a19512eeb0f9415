// @vitest-environment happy-dom
import { beforeEach, describe, expect, test } from 'vitest';
import type { PadBinding } from '../../../electron/contract.ts';
import type { Switch } from '../../../machines/journal.ts';
import { nextUniform, seedRandom } from '../../../machines/statistics/random.ts';
import { combineSources } from '../../../renderer/switches/combined-source.ts';
import { KeyboardSource } from '../../../renderer/switches/keyboard-source.ts';
import { PadSource } from '../../../renderer/switches/pad-source.ts';
import { FakePads } from '../../support/fake-pads.ts';

const BOARD = 'Plain board (Vendor: 1234 Product: 5678)';
const button = (which: number, index = 0): PadBinding => ({
  kind: 'pad-button',
  pad: BOARD,
  index,
  button: which,
});

let pads = new FakePads();
let nowMs = 0;
let heard: string[] = [];
let levels: string[] = [];
let pollOnce = () => {};
let stop = () => {};

function listen(
  bindings: Partial<Record<Switch, PadBinding>>,
  stamped: Switch[] = [],
  keys: Record<string, Switch> = {},
): void {
  const pad = new PadSource({
    window,
    document,
    readPads: () => pads.slots,
    now: () => nowMs,
    startPolling: (poll) => {
      pollOnce = poll;
      return () => {
        pollOnce = () => {};
      };
    },
    bindings: new Map(Object.entries(bindings) as [Switch, PadBinding][]),
    stamped: new Set(stamped),
  });
  const keyboard = new KeyboardSource({
    window,
    document,
    bindings: new Map(Object.entries(keys)),
    bounceMs: 25,
  });
  stop = combineSources([pad, keyboard]).listen({
    onEdge: ({ switch: name, down, lost, timeStampMs }) =>
      heard.push(`${timeStampMs} ${name} ${down ? 'down' : lost ? 'lost' : 'up'}`),
    onLevel: (name, isDown, at) => levels.push(`${at} ${name} ${isDown ? 'down' : 'up'}`),
    onThirdKey: (code, at) => heard.push(`${at} third key ${code}`),
    onFocus: (has, at) => heard.push(`${at} focus ${has ? 'back' : 'lost'}`),
    onDevice: (what, name, at) => heard.push(`${at} ${name} ${what}`),
  });
}

/** Time goes on to `atMs`, and the pads are looked at then. */
function pollAt(atMs: number): void {
  nowMs = atMs;
  pollOnce();
}

/** All that waits for key events from before it has been told. */
function settle(): void {
  pollAt(nowMs + 100);
}

function key(type: 'keydown' | 'keyup', code: string, at: number): void {
  nowMs = Math.max(nowMs, at);
  const event = new KeyboardEvent(type, { code, cancelable: true, bubbles: true });
  Object.defineProperty(event, 'timeStamp', { value: at });
  window.dispatchEvent(event);
}

beforeEach(() => {
  stop();
  pads = new FakePads();
  pads.plugIn(0, BOARD);
  nowMs = 0;
  heard = [];
  levels = [];
});

describe('a button', () => {
  test('is a press from the poll that saw it down to the one that saw it up', () => {
    listen({ chest: button(2) });
    pads.sample(0, 98, { buttons: { 2: 1 } });
    pollAt(100);
    pads.sample(0, 297, { buttons: { 2: 0 } });
    pollAt(299);
    settle();
    expect(heard).toEqual(['100 chest down', '299 chest up']);
  });

  test('has the time of its pad’s sample where that is to be believed, and else of the poll', () => {
    listen({ chest: button(2) }, ['chest']);
    pollAt(99);
    pads.sample(0, 98.4, { buttons: { 2: 1 } });
    pollAt(100);
    pads.sample(0, 5, { buttons: { 2: 0 } });
    pollAt(299);
    pads.sample(0, 90_000, { buttons: { 2: 1 } });
    pollAt(400);
    settle();
    expect(heard).toEqual(['98.4 chest down', '299 chest up', '400 chest down']);
  });

  test('held when the listening begins is no press until it has been up', () => {
    pads.sample(0, 0, { buttons: { 2: 1 } });
    listen({ chest: button(2) });
    pollAt(50);
    pads.sample(0, 60, { buttons: { 2: 0 } });
    pollAt(61);
    pads.sample(0, 80, { buttons: { 2: 1 } });
    pollAt(81);
    settle();
    expect(heard).toEqual(['81 chest down']);
    expect(levels).toEqual(['0 chest down', '61 chest up']);
  });

  test('at rest is told to be up at the first look, once', () => {
    listen({ chest: button(2) });
    pollAt(50);
    pads.sample(0, 60, { buttons: { 2: 1 } });
    pollAt(61);
    settle();
    expect([levels, heard]).toEqual([['0 chest up'], ['61 chest down']]);
  });

  test('of a pad that shows itself by its first press is a press', () => {
    pads.unplug(0);
    listen({ chest: button(2) });
    pads.plugIn(0, BOARD);
    pads.sample(0, 80, { buttons: { 2: 1 } });
    pollAt(81);
    settle();
    expect(heard).toEqual(['0 chest unplugged', '81 chest plugged-in', '81 chest down']);
  });

  test('that is nobody’s is a third key, told once', () => {
    listen({ chest: button(2) });
    for (const [at, value] of [
      [10, 1],
      [20, 1],
      [30, 0],
      [40, 1],
    ] as const) {
      pads.sample(0, at, { buttons: { 3: value } });
      pollAt(at);
    }
    settle();
    expect(heard).toEqual(['10 third key PadButton3', '40 third key PadButton3']);
  });
});

describe('an axis', () => {
  const axis: PadBinding = { kind: 'pad-axis', pad: BOARD, index: 0, axis: 1, rest: -1, towards: 1 };

  test('is down from half its way and up below a third: trembling between makes no presses', () => {
    pads.plugIn(0, BOARD, 0, [0, -1]);
    listen({ airway: axis });
    const ways = [0.2, 0.45, 0.55, 0.4, 0.52, 0.38, 0.3, 0.4, 0.49, 0.5];
    ways.forEach((way, index) => {
      pads.sample(0, index * 10, { axes: [0, way * 2 - 1] });
      pollAt(index * 10 + 1);
    });
    settle();
    expect(heard).toEqual(['21 airway down', '61 airway up', '91 airway down']);
  });
});

describe('a pad that is unplugged', () => {
  test('lets go of what it held as lost, says so, and says when it is back; a switch that comes back closed is no press', () => {
    listen({ chest: button(2), airway: { ...button(1), index: 1, pad: 'Other' } });
    pads.plugIn(1, 'Other');
    pollAt(10);
    pads.sample(0, 98, { buttons: { 2: 1 } });
    pollAt(100);
    pads.unplug(0);
    pollAt(150);
    pads.plugIn(0, BOARD);
    pads.sample(0, 300, { buttons: { 2: 1 } });
    pollAt(301);
    pads.sample(0, 400, { buttons: { 2: 0 } });
    pollAt(401);
    pads.sample(0, 500, { buttons: { 2: 1 } });
    pollAt(501);
    settle();
    expect(heard).toEqual([
      '0 airway unplugged',
      '10 airway plugged-in',
      '100 chest down',
      '150 chest lost',
      '150 chest unplugged',
      '301 chest plugged-in',
      '501 chest down',
    ]);
  });

  test('is found again in another place', () => {
    listen({ chest: button(2) });
    pads.unplug(0);
    pollAt(50);
    pads.plugIn(1, BOARD);
    pollAt(60);
    pads.sample(1, 70, { buttons: { 2: 1 } });
    pollAt(71);
    settle();
    expect(heard).toEqual(['50 chest unplugged', '60 chest plugged-in', '71 chest down']);
  });

  test('is not replaced by its twin that is the other switch', () => {
    pads.plugIn(1, BOARD);
    listen({ chest: button(2), airway: button(2, 1) });
    pads.unplug(0);
    pollAt(50);
    pads.sample(1, 70, { buttons: { 2: 1 } });
    pollAt(71);
    settle();
    expect(heard).toEqual(['50 chest unplugged', '71 airway down']);
  });

  test('is not replaced by its twin that is the other switch by another button: that button is then nobody’s', () => {
    pads.plugIn(1, BOARD);
    listen({ chest: button(2), airway: button(3, 1) });
    pads.sample(0, 20, { buttons: { 2: 1 } });
    pollAt(21);
    pads.unplug(0);
    pollAt(50);
    pads.sample(1, 70, { buttons: { 2: 1 } });
    pollAt(71);
    pads.sample(1, 90, { buttons: { 3: 1 } });
    pollAt(91);
    settle();
    expect(heard).toEqual([
      '21 chest down',
      '50 chest lost',
      '50 chest unplugged',
      '71 third key PadButton2',
      '91 airway down',
    ]);
  });

  test('is neither of two twins when it comes back in a third place', () => {
    pads.slots.push(null);
    pads.unplug(0);
    listen({ chest: button(2), airway: button(2, 1) });
    pads.plugIn(2, BOARD);
    pollAt(50);
    pads.sample(2, 70, { buttons: { 2: 1 } });
    pollAt(71);
    settle();
    expect(heard).toEqual(['0 chest unplugged', '0 airway unplugged', '71 third key PadButton2']);
  });

  test('is not guessed among several of its name', () => {
    pads.slots.push(null);
    pads.plugIn(1, BOARD);
    pads.plugIn(2, BOARD);
    listen({ chest: button(2) });
    pads.unplug(0);
    pollAt(50);
    pads.sample(1, 70, { buttons: { 2: 1 } });
    pads.sample(2, 70, { buttons: { 2: 1 } });
    pollAt(71);
    settle();
    expect(heard.filter((one) => one.includes('chest'))).toEqual(['50 chest unplugged']);
  });

  test('and read from another of its name lets go of what it held as lost; what that one holds is no press', () => {
    listen({ chest: button(2) });
    pads.sample(0, 20, { buttons: { 2: 1 } });
    pollAt(21);
    pads.unplug(0);
    pads.plugIn(1, BOARD);
    pads.sample(1, 49, { buttons: { 2: 1 } });
    pollAt(50);
    pads.sample(1, 60, { buttons: { 2: 0 } });
    pollAt(61);
    pads.sample(1, 70, { buttons: { 2: 1 } });
    pollAt(71);
    settle();
    expect(heard).toEqual([
      '21 chest down',
      '50 chest lost',
      '50 chest unplugged',
      '50 chest plugged-in',
      '71 chest down',
    ]);
  });

  test('has a twin whose same button is nobody’s', () => {
    pads.plugIn(1, BOARD);
    listen({ chest: button(2) });
    pads.sample(1, 20, { buttons: { 2: 1 } });
    pollAt(21);
    settle();
    expect(heard).toEqual(['21 third key PadButton2']);
  });
});

test('a hidden page lets go of what was held as lost, and what is still held when it is shown again is no press', () => {
  listen({ chest: button(2) });
  pads.sample(0, 98, { buttons: { 2: 1 } });
  pollAt(100);
  Object.defineProperty(document, 'visibilityState', { value: 'hidden', configurable: true });
  const hidden = new Event('visibilitychange');
  Object.defineProperty(hidden, 'timeStamp', { value: 300 });
  document.dispatchEvent(hidden);
  Reflect.deleteProperty(document, 'visibilityState');
  pollAt(400);
  pads.sample(0, 450, { buttons: { 2: 0 } });
  pollAt(451);
  pads.sample(0, 500, { buttons: { 2: 1 } });
  pollAt(501);
  settle();
  expect(heard.filter((one) => !one.includes('focus'))).toEqual([
    '100 chest down',
    '300 chest lost',
    '501 chest down',
  ]);
  expect(levels).toEqual(['0 chest up', '400 chest down', '451 chest up']);
});

test('a press that began while the page was hidden has no onset when it is shown again: it is ignored until let go', () => {
  listen({ chest: button(2) });
  pollAt(100);
  Object.defineProperty(document, 'visibilityState', { value: 'hidden', configurable: true });
  document.dispatchEvent(new Event('visibilitychange'));
  pads.sample(0, 250, { buttons: { 2: 1 } });
  pollAt(300);
  Reflect.deleteProperty(document, 'visibilityState');
  pollAt(400);
  pads.sample(0, 450, { buttons: { 2: 0 } });
  pollAt(451);
  pads.sample(0, 500, { buttons: { 2: 1 } });
  pollAt(501);
  settle();
  expect(heard.filter((one) => !one.includes('focus'))).toEqual(['501 chest down']);
  expect(levels).toEqual(['0 chest up', '400 chest down', '451 chest up']);
});

describe('a key and a pad together', () => {
  test('stand in the order of their times, also when the key’s handler runs late', () => {
    listen({ airway: button(1) }, ['airway'], { KeyX: 'chest' });
    pollAt(99);
    pads.sample(0, 100, { buttons: { 1: 1 } });
    pollAt(101);
    key('keydown', 'KeyX', 97);
    pads.sample(0, 104, { buttons: { 1: 0 } });
    key('keyup', 'KeyX', 106);
    settle();
    expect(heard).toEqual(['97 chest down', '100 airway down', '104 airway up', '106 chest up']);
  });

  test('an instructor’s key comes after the presses before it', () => {
    listen({ airway: button(1) }, ['airway']);
    window.addEventListener('keydown', (event) => heard.push(`${event.timeStamp} called`), { once: true });
    pollAt(99);
    pads.sample(0, 100, { buttons: { 1: 1 } });
    pollAt(101);
    key('keydown', 'Digit2', 103);
    expect(heard).toEqual(['100 airway down', '103 called']);
  });
});

/**
 * The whole chain as it is: a board that samples its contacts every 8 ms and a browser that samples the board every 4 ms, each
 * with its own phase, and a page that polls every 1.1 ms with jitter and is held up now and then.
 */
describe.each([
  ['stamped' as const, 12],
  ['polled' as const, 12 + 30],
])('over a realistic chain, %s', (kind, worstMs) => {
  test.each([1, 2, 3, 4, 5])(
    'every press is seen once, in order, late by the chain’s steps at most (seed %i)',
    (seed) => {
      const state = seedRandom(seed);
      const random = () => nextUniform(state);
      const truth = presses(random, 120);
      listen({ chest: button(2) }, kind === 'stamped' ? ['chest'] : []);
      const board = 8 * random();
      const browser = 4 * random();
      let page = 0;
      let nextSample = browser;
      const endMs = (truth.at(-1)?.atMs ?? 0) + 200;
      while (page < endMs) {
        page += 1 + 0.3 * random() + (random() < 0.002 ? 30 * random() : 0);
        while (nextSample <= page) {
          const seenByBoardMs = board + 8 * Math.floor((nextSample - board) / 8);
          const isDown = truth.filter(({ atMs }) => atMs <= seenByBoardMs).at(-1)?.down === true;
          if ((pads.slots[0]?.buttons[2]?.value === 1) !== isDown)
            pads.sample(0, nextSample, { buttons: { 2: isDown ? 1 : 0 } });
          nextSample += 4;
        }
        pollAt(page);
      }
      settle();
      const found = heard.map((one) => one.split(' '));
      expect(found.map(([, , what]) => what)).toEqual(truth.map(({ down }) => (down ? 'down' : 'up')));
      const late = truth.map(({ atMs }, index) => Number(found[index]?.[0]) - atMs);
      expect(Math.min(...late)).toBeGreaterThanOrEqual(0);
      expect(Math.max(...late)).toBeLessThanOrEqual(worstMs);
    },
  );
});

function presses(random: () => number, count: number): { atMs: number; down: boolean }[] {
  let atMs = 50;
  return Array.from({ length: count }, (_, index) => {
    atMs += 120 + 300 * random();
    return { atMs, down: index % 2 === 0 };
  });
}
