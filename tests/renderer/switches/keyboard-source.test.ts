// @vitest-environment happy-dom
import { beforeEach, expect, test } from 'vitest';
import { KeyboardSource } from '../../../renderer/switches/keyboard-source.ts';

type Heard = string;
let heard: Heard[] = [];
let stop = () => {};

beforeEach(() => {
  stop();
  heard = [];
  const switches = new KeyboardSource({
    window,
    document,
    bindings: new Map([
      ['KeyX', 'chest'],
      ['Period', 'airway'],
    ]),
    bounceMs: 25,
  });
  stop = switches.listen({
    onEdge: ({ switch: name, down, lost, timeStampMs }) => {
      heard.push(`${timeStampMs} ${name} ${down ? 'down' : lost ? 'lost' : 'up'}`);
    },
    onThirdKey: (code, at) => heard.push(`${at} third key ${code}`),
    onFocus: (has, at) => heard.push(`${at} focus ${has ? 'back' : 'lost'}`),
    onDevice: (what, name, at) => heard.push(`${at} ${name} ${what}`),
  });
});

function key(type: 'keydown' | 'keyup', code: string, at: number, more: KeyboardEventInit = {}): Event {
  return send(window, new KeyboardEvent(type, { code, cancelable: true, bubbles: true, ...more }), at);
}

function send(target: EventTarget, event: Event, at: number): Event {
  Object.defineProperty(event, 'timeStamp', { value: at });
  target.dispatchEvent(event);
  return event;
}

test('a press is its key going down and up, at the times of the events', () => {
  key('keydown', 'KeyX', 100.1);
  key('keyup', 'KeyX', 290.6);
  expect(heard).toEqual(['100.1 chest down', '290.6 chest up']);
});

test('auto-repeat makes no presses', () => {
  key('keydown', 'KeyX', 100);
  for (const at of [600, 633, 666]) key('keydown', 'KeyX', at, { repeat: true });
  key('keyup', 'KeyX', 700);
  expect(heard).toEqual(['100 chest down', '700 chest up']);
});

test('two people press at the same time and neither press is lost', () => {
  key('keydown', 'KeyX', 100);
  key('keydown', 'Period', 150);
  key('keyup', 'KeyX', 200);
  key('keydown', 'KeyX', 300);
  key('keyup', 'Period', 350);
  key('keyup', 'KeyX', 400);
  expect(heard).toEqual([
    '100 chest down',
    '150 airway down',
    '200 chest up',
    '300 chest down',
    '350 airway up',
    '400 chest up',
  ]);
});

test('a key with Shift held is the same key', () => {
  key('keydown', 'KeyX', 100, { key: 'X', shiftKey: true });
  key('keyup', 'KeyX', 200, { key: 'x' });
  expect(heard).toEqual(['100 chest down', '200 chest up']);
});

test('when the window loses focus, every held key is let go as lost, at that moment', () => {
  key('keydown', 'KeyX', 100);
  key('keydown', 'Period', 150);
  send(window, new Event('blur'), 400);
  expect(heard).toEqual([
    '100 chest down',
    '150 airway down',
    '400 chest lost',
    '400 airway lost',
    '400 focus lost',
  ]);
});

test('a key still held when the focus comes back starts no press, and the next press counts', () => {
  key('keydown', 'KeyX', 100);
  send(window, new Event('blur'), 400);
  send(window, new Event('focus'), 900);
  key('keydown', 'KeyX', 930, { repeat: true });
  key('keyup', 'KeyX', 1000);
  key('keydown', 'KeyX', 1500);
  key('keyup', 'KeyX', 1700);
  expect(heard).toEqual([
    '100 chest down',
    '400 chest lost',
    '400 focus lost',
    '900 focus back',
    '1500 chest down',
    '1700 chest up',
  ]);
});

test('a hidden page has lost the focus too, and says so once', () => {
  key('keydown', 'KeyX', 100);
  Object.defineProperty(document, 'visibilityState', { value: 'hidden', configurable: true });
  send(document, new Event('visibilitychange'), 300);
  send(window, new Event('blur'), 301);
  Reflect.deleteProperty(document, 'visibilityState');
  expect(heard).toEqual(['100 chest down', '300 chest lost', '300 focus lost']);
});

test('a release that never came is lost, far enough before the next press not to look like bounce', () => {
  key('keydown', 'KeyX', 100);
  key('keydown', 'KeyX', 600);
  key('keyup', 'KeyX', 800);
  expect(heard).toEqual(['100 chest down', '575 chest lost', '600 chest down', '800 chest up']);
});

test('a switch’s level is told where no edge tells it: a key held from before is let go, and no key is seen without the focus', () => {
  stop();
  const levels: string[] = [];
  stop = new KeyboardSource({
    window,
    document,
    bindings: new Map([
      ['KeyX', 'chest'],
      ['Period', 'airway'],
    ]),
    bounceMs: 25,
  }).listen({
    onEdge: ({ switch: name, down, lost, timeStampMs }) =>
      levels.push(`${timeStampMs} ${name} edge ${down ? 'down' : lost ? 'lost' : 'up'}`),
    onLevel: (name, isDown, at) => levels.push(`${at} ${name} level ${isDown}`),
    onThirdKey: () => undefined,
    onFocus: () => undefined,
    onDevice: () => undefined,
  });
  key('keyup', 'KeyX', 50);
  key('keydown', 'KeyX', 100);
  send(window, new Event('blur'), 400);
  send(window, new Event('focus'), 900);
  key('keyup', 'KeyX', 1000);
  expect(levels).toEqual([
    '50 chest level false',
    '100 chest edge down',
    '400 chest edge lost',
    '400 chest level null',
    '400 airway level null',
    '1000 chest level false',
  ]);
});

test('a release of a key that is not held is nothing', () => {
  key('keyup', 'KeyX', 100);
  expect(heard).toEqual([]);
});

test('another key is a third key, told once; the instructor’s keys and the window’s own are not', () => {
  key('keydown', 'KeyM', 100);
  key('keydown', 'KeyM', 600, { repeat: true });
  for (const code of [
    'Digit1',
    'Numpad0',
    'ShiftLeft',
    'ControlRight',
    'Enter',
    'Escape',
    'Tab',
    'F5',
    'CapsLock',
  ]) {
    key('keydown', code, 700);
  }
  key('keydown', 'KeyR', 800, { ctrlKey: true });
  expect(heard).toEqual(['100 third key KeyM']);
});

test('a switch’s key does nothing else in the window', () => {
  expect(key('keydown', 'Period', 100).defaultPrevented).toBe(true);
  expect(key('keydown', 'KeyM', 100).defaultPrevented).toBe(false);
});

test('a key chosen for a call is no third key, and neither is the one it had before', () => {
  stop();
  stop = new KeyboardSource({
    window,
    document,
    bindings: new Map([['KeyX', 'chest']]),
    bounceMs: 25,
    instructorKeys: { '2': 'KeyQ' },
  }).listen({
    onEdge: () => undefined,
    onThirdKey: (code) => heard.push(code),
    onFocus: () => undefined,
    onDevice: () => undefined,
  });
  for (const code of ['KeyQ', 'Digit2', 'Numpad2', 'KeyW']) key('keydown', code, 100);
  expect(heard).toEqual(['KeyW']);
});
