// @vitest-environment happy-dom
import { beforeEach, expect, test, vi } from 'vitest';
import type { Switch } from '../../../machines/journal.ts';
import { KeyboardSource } from '../../../renderer/switches/keyboard-source.ts';
import { FOCUS_GRACE_MS, type OtherWindows } from '../../../renderer/switches/other-windows.ts';

/** The station's other windows as this one knows them; the test changes what is so and says that it has. */
const others = {
  isShared: true,
  isAlone: false,
  haveOthersFocus: false,
  isFocusLost: false,
  tellsPads: true,
  down: new Set<Switch>(),
  said: [] as boolean[],
  pageMs: 0,
  timer: null as { atMs: number; then: () => void } | null,
  listener: (): void => undefined,
};
const asOthers: OtherWindows = Object.assign(others, {
  isDown: (name: Switch) => others.down.has(name),
  sayFocus: (hasFocus: boolean) => void others.said.push(hasFocus),
  now: () => others.pageMs,
  wake: (afterMs: number, then: () => void) => {
    const timer = { atMs: others.pageMs + afterMs, then };
    others.timer = timer;
    return () => {
      if (others.timer === timer) others.timer = null;
    };
  },
  listen: (listener: () => void) => {
    others.listener = listener;
    return () => undefined;
  },
});
let heard: string[] = [];
let stop = () => {};

beforeEach(() => {
  stop();
  vi.spyOn(document, 'hasFocus').mockReturnValue(true);
  heard = [];
  Object.assign(others, {
    isShared: true,
    isAlone: false,
    haveOthersFocus: false,
    isFocusLost: false,
    pageMs: 0,
    timer: null,
    said: [],
  });
  others.down.clear();
  const bindings = new Map<string, Switch>([
    ['KeyX', 'chest'],
    ['Period', 'airway'],
  ]);
  const switches = new KeyboardSource({ window, document, bindings, bounceMs: 25, others: asOthers });
  stop = switches.listen({
    onEdge: ({ switch: name, down, lost, timeStampMs }) => {
      // What the session notes of its own edges.
      if (down) others.down.add(name);
      else others.down.delete(name);
      heard.push(`${timeStampMs} ${name} ${down ? 'down' : lost ? 'lost' : 'up'}`);
    },
    onThirdKey: (code, at) => heard.push(`${at} third key ${code}`),
    onFocus: (has, at) => {
      others.isFocusLost = !has;
      heard.push(`${at} focus ${has ? 'back' : 'lost'}`);
    },
    onDevice: (what, name, at) => heard.push(`${at} ${name} ${what}`),
  });
});

function key(type: 'keydown' | 'keyup', code: string, at: number, repeat = false): void {
  send(new KeyboardEvent(type, { code, cancelable: true, bubbles: true, repeat }), at);
}

function send(event: Event, at: number): void {
  Object.defineProperty(event, 'timeStamp', { value: at });
  moveTo(at);
  window.dispatchEvent(event);
}

function moveTo(pageMs: number): void {
  const { timer } = others;
  if (timer !== null && timer.atMs <= pageMs) {
    others.timer = null;
    others.pageMs = timer.atMs;
    timer.then();
  }
  others.pageMs = Math.max(others.pageMs, pageMs);
}

function change(changes: Partial<typeof others>): void {
  Object.assign(others, changes);
  others.listener();
}

test('a release is told though its press was seen by nobody here: the other window may have it', () => {
  others.down.add('chest');
  key('keyup', 'KeyX', 190);
  expect(heard).toEqual(['190 chest up']);
});

test('it is told even before the other window’s press has come here', () => {
  key('keyup', 'KeyX', 190);
  expect(heard).toEqual(['190 chest up']);
});

test('a focus that goes to our other window is lost to nobody, and what is held stays held', () => {
  key('keydown', 'KeyX', 100);
  send(new Event('blur'), 120);
  change({ haveOthersFocus: true });
  moveTo(120 + FOCUS_GRACE_MS);
  expect([heard, others.said]).toEqual([['100 chest down'], [false]]);
});

test('a focus that goes away from both is lost as of when it went, once it is known to be gone', () => {
  key('keydown', 'KeyX', 100);
  send(new Event('blur'), 120);
  moveTo(119 + FOCUS_GRACE_MS);
  expect(heard).toEqual(['100 chest down']);
  moveTo(120 + FOCUS_GRACE_MS);
  expect(heard).toEqual(['100 chest down', '120 chest lost', '120 focus lost']);
  key('keyup', 'KeyX', 900);
  send(new Event('focus'), 1000);
  expect(heard.slice(3)).toEqual(['1000 focus back']);
});

test('a key held since it went down in the other window is let go as lost by the one that had the focus', () => {
  others.down.add('airway');
  send(new Event('blur'), 120);
  moveTo(120 + FOCUS_GRACE_MS);
  expect(heard).toEqual(['120 airway lost', '120 focus lost']);
});

test('the window whose focus went to the other writes nothing when that one loses it', () => {
  send(new Event('blur'), 120);
  change({ haveOthersFocus: true });
  change({ haveOthersFocus: false });
  moveTo(5000);
  expect(heard).toEqual([]);
});

test('when the window that had the focus is killed, the one that is left says so, unless the focus comes to it', () => {
  send(new Event('blur'), 120);
  change({ haveOthersFocus: true });
  moveTo(800);
  others.down.add('chest');
  change({ haveOthersFocus: false, isAlone: true });
  moveTo(800 + FOCUS_GRACE_MS);
  expect(heard).toEqual(['800 chest lost', '800 focus lost']);
});

test('when the focus comes to it, the press that began in the killed window is whole', () => {
  send(new Event('blur'), 120);
  change({ haveOthersFocus: true });
  moveTo(800);
  others.down.add('chest');
  change({ haveOthersFocus: false, isAlone: true });
  send(new Event('focus'), 830);
  key('keyup', 'KeyX', 900);
  moveTo(5000);
  expect(heard).toEqual(['900 chest up']);
});

test('a focus lost in the moment in which it came here is given back by this window', () => {
  send(new Event('blur'), 120);
  change({ haveOthersFocus: true });
  send(new Event('focus'), 700);
  change({ haveOthersFocus: false, isFocusLost: true });
  expect(heard).toEqual(['700 focus back']);
});

test('a key that went up in the other window starts a new press here, with nothing lost', () => {
  key('keydown', 'KeyX', 100);
  others.down.delete('chest');
  key('keydown', 'KeyX', 600);
  expect(heard).toEqual(['100 chest down', '600 chest down']);
});

test('just after the focus came from the other window, a release may be on its way: none is made up', () => {
  key('keydown', 'KeyX', 100);
  send(new Event('blur'), 120);
  change({ haveOthersFocus: true });
  send(new Event('focus'), 700);
  key('keydown', 'KeyX', 750);
  expect(heard).toEqual(['100 chest down', '750 chest down']);
});

test('a press whose release no window saw ends as lost before the next', () => {
  others.down.add('chest');
  key('keydown', 'KeyX', 600);
  expect(heard).toEqual(['575 chest lost', '600 chest down']);
});

test('alone after a reload, a key that the journal has down is let go by its release, or lost before its next press', () => {
  Object.assign(others, { isShared: false, isAlone: true });
  others.down.add('chest');
  others.down.add('airway');
  key('keyup', 'KeyX', 500);
  key('keydown', 'Period', 900);
  expect(heard).toEqual(['500 chest up', '875 airway lost', '900 airway down']);
});
