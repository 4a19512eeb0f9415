import { describe, expect, test } from 'vitest';
import type { Attendance } from '../../electron/contract.ts';
import { JournalHost } from '../../electron/journal-host.ts';
import { HOLD_MS, LineMerge } from '../../electron/line-merge.ts';
import type { BodyLine } from '../../machines/journal.ts';
import { edgeAt, makeIds, OPENED_AT, OTHER_WINDOW_ID, setupOf, WINDOW_ID } from '../support/drills.ts';
import { FakeHostClock } from '../support/fake-host-clock.ts';
import { ForgetfulDisk } from '../support/forgetful-disk.ts';

/** Lets everything that does not wait for the clock come to its end. */
const settle = async () => {
  for (let turn = 0; turn < 12; turn += 1) await new Promise<void>((resolve) => setImmediate(resolve));
};
const breathAt = (at: number, down = true): BodyLine => ({ kind: 'edge', at, switch: 'airway', down });

async function openDrill() {
  const clock = new FakeHostClock();
  const disk = new ForgetfulDisk();
  const host = new JournalHost({
    disk,
    folder: '/journals',
    newId: makeIds(),
    now: () => new Date(OPENED_AT),
    clock,
  });
  const opened = await host.openDrill(setupOf());
  if (!opened.ok) throw new Error(opened.message);
  const { drillId } = opened.value;
  const sequences = new Map<string, number>();
  const attend = (windowId: string, changes: Partial<Attendance> = {}) =>
    host.attend({ drillId, windowId, role: 'instructor', hasFocus: false, zero: null, ...changes });
  /** Sends a window's next batch; `answers` has what came back so far. */
  const answers: string[] = [];
  const send = async (windowId: string, ...lines: BodyLine[]) => {
    const sequence = (sequences.get(windowId) ?? 0) + 1;
    sequences.set(windowId, sequence);
    void host
      .append({ drillId, windowId, sequence, lines })
      .then((result) => answers.push(result.ok ? `through ${result.value.throughLine}` : result.message));
    await settle();
  };
  const written = async (): Promise<BodyLine[]> => {
    await settle();
    const read = await host.read(drillId);
    if (!read.ok) throw new Error(read.message);
    return read.value.lines.map(({ line }) => line);
  };
  return { clock, disk, host, drillId, attend, send, written, answers };
}

describe('one window', () => {
  test('its lines wait for nothing', async () => {
    const { clock, attend, send, answers } = await openDrill();
    await attend(WINDOW_ID);
    await send(WINDOW_ID, edgeAt(100));
    expect([answers, clock.isWaiting]).toEqual([['through 2'], false]);
  });

  test('and for nothing again once the other has gone', async () => {
    const { clock, host, attend, send, answers } = await openDrill();
    await attend(WINDOW_ID);
    await attend(OTHER_WINDOW_ID);
    host.leaveWindow(OTHER_WINDOW_ID);
    await send(WINDOW_ID, edgeAt(100));
    expect([answers, clock.isWaiting]).toEqual([['through 2'], false]);
  });
});

describe('two windows', () => {
  async function openShared() {
    const drill = await openDrill();
    await drill.attend(WINDOW_ID);
    await drill.attend(OTHER_WINDOW_ID);
    return drill;
  }

  test('lines stand in the order of their times, whichever came first', async () => {
    const { clock, send, written } = await openShared();
    await send(WINDOW_ID, edgeAt(100), edgeAt(300, false));
    clock.moveTo(HOLD_MS - 1);
    await send(OTHER_WINDOW_ID, breathAt(200), breathAt(400, false));
    expect(await written()).toEqual([edgeAt(100), breathAt(200), edgeAt(300, false)]);
    clock.moveTo(2 * HOLD_MS);
    expect(await written()).toEqual([edgeAt(100), breathAt(200), edgeAt(300, false), breathAt(400, false)]);
  });

  test('a line waits no longer than it must: the other may be silent', async () => {
    const { clock, send, written } = await openShared();
    await send(WINDOW_ID, edgeAt(100));
    expect(await written()).toEqual([]);
    clock.moveTo(HOLD_MS);
    expect(await written()).toEqual([edgeAt(100)]);
  });

  test('an edge that comes too late stands at the last line’s time, and the journal says by how much', async () => {
    const { clock, send, written, answers } = await openShared();
    await send(WINDOW_ID, edgeAt(300.5));
    clock.moveTo(HOLD_MS);
    await settle();
    await send(OTHER_WINDOW_ID, breathAt(200.2), { kind: 'call', at: 210.3, call: 'begin' });
    clock.moveTo(3 * HOLD_MS);
    expect(await written()).toEqual([
      edgeAt(300.5),
      breathAt(300.5),
      { kind: 'device', at: 300.5, what: 'late', lateMs: 100.3, switch: 'airway' },
      { kind: 'call', at: 300.5, call: 'begin' },
      { kind: 'device', at: 300.5, what: 'late', lateMs: 90.2 },
    ]);
    expect(answers).toEqual(['through 2', 'through 6']);
  });

  test('a line whose time only gives it its place is placed without a word', async () => {
    const { clock, send, written } = await openShared();
    await send(WINDOW_ID, edgeAt(300));
    clock.moveTo(HOLD_MS);
    await settle();
    const stopped = { kind: 'count', what: 'stopped', lastMs: 150 } as const;
    await send(OTHER_WINDOW_ID, { ...stopped, at: 200 });
    clock.moveTo(3 * HOLD_MS);
    expect(await written()).toEqual([edgeAt(300), { ...stopped, at: 300 }]);
  });

  test('a close line waits for the other’s lines and stands last; a second one is refused', async () => {
    const { clock, send, written, answers } = await openShared();
    await send(WINDOW_ID, { kind: 'close', at: 500 });
    await send(OTHER_WINDOW_ID, { kind: 'close', at: 501 });
    await send(OTHER_WINDOW_ID, edgeAt(600));
    expect(answers).toEqual([
      'line 1 of the batch: kind comes after the close line',
      'sequence is 2, and 1 comes next',
    ]);
    clock.moveTo(HOLD_MS);
    expect(await written()).toEqual([{ kind: 'close', at: 500 }]);
  });

  test('lines of a window that was killed are kept, and nobody waits for more', async () => {
    const { host, send, written } = await openShared();
    await send(OTHER_WINDOW_ID, breathAt(200));
    await send(WINDOW_ID, edgeAt(300));
    expect(await written()).toEqual([breathAt(200)]);
    host.leaveWindow(OTHER_WINDOW_ID);
    expect(await written()).toEqual([breathAt(200), edgeAt(300)]);
  });

  test('a batch of which a part was written before the disk failed is not written twice', async () => {
    const { clock, disk, host, drillId, send, written, answers } = await openShared();
    const lines = [edgeAt(100), edgeAt(300, false)];
    await send(WINDOW_ID, ...lines);
    await send(OTHER_WINDOW_ID, breathAt(200), breathAt(250, false));
    expect(await written()).toEqual([edgeAt(100), breathAt(200), breathAt(250, false)]);
    disk.failures.set('sync', ['ENOSPC']);
    clock.moveTo(2 * HOLD_MS);
    await settle();
    expect(answers).toHaveLength(2);
    // Sent again in another cut, as a sender does that looks for a bad line.
    const again = host.append({ drillId, windowId: WINDOW_ID, sequence: 1, lines: lines.slice(0, 1) });
    const rest = host.append({ drillId, windowId: WINDOW_ID, sequence: 2, lines: lines.slice(1) });
    await settle();
    clock.moveTo(5 * HOLD_MS);
    expect(await again).toEqual({ ok: true, value: { throughLine: 4 } });
    expect(await rest).toEqual({ ok: true, value: { throughLine: 5 } });
    expect(await written()).toEqual([edgeAt(100), breathAt(200), breathAt(250, false), edgeAt(300, false)]);
  });

  test('a station that ends writes what was waiting', async () => {
    const { host, send, answers } = await openShared();
    await send(WINDOW_ID, edgeAt(100));
    await host.leave();
    expect(answers).toEqual(['through 2']);
  });
});

test('behind a batch whose answer is still under way, others of its window may wait: they are waited for', () => {
  const merge = new LineMerge();
  const held = (windowId: string, line: BodyLine, cameMs: number) => ({ line, windowId, batch: 'x', cameMs });
  const windows = [WINDOW_ID, OTHER_WINDOW_ID];
  merge.awaitAnswer(OTHER_WINDOW_ID);
  merge.add([held(WINDOW_ID, edgeAt(300), 0)]);
  expect([merge.take(10_000, windows), merge.nextDueMs(windows)]).toEqual([[], null]);
  merge.answered(OTHER_WINDOW_ID, 10_000);
  expect([merge.take(10_000, windows), merge.nextDueMs(windows)]).toEqual([[], 10_000 + HOLD_MS]);
  merge.add([held(OTHER_WINDOW_ID, breathAt(200), 10_020)]);
  expect(merge.take(10_020, windows).map(({ line }) => line)).toEqual([breathAt(200)]);
});

describe('who is there', () => {
  test('every window hears who attends, who has the count, and where the drill’s 0 is', async () => {
    const { clock, host, drillId, attend } = await openDrill();
    const heard: unknown[] = [];
    host.onWindowsChanged((windows) => heard.push(windows));
    clock.moveTo(40);
    const zero = { hostMs: 3, errorMs: 0.2 };
    await attend(WINDOW_ID, { hasFocus: true, zero });
    await attend(OTHER_WINDOW_ID, { role: 'learners' });
    host.leaveWindow(WINDOW_ID);
    const first = { windowId: WINDOW_ID, role: 'instructor', hasFocus: true };
    const second = { windowId: OTHER_WINDOW_ID, role: 'learners', hasFocus: false };
    expect(heard).toEqual([
      { drillId, version: 1, windows: [first], countId: WINDOW_ID, countGoneMs: null, zero },
      { drillId, version: 2, windows: [first, second], countId: WINDOW_ID, countGoneMs: null, zero },
      { drillId, version: 3, windows: [second], countId: OTHER_WINDOW_ID, countGoneMs: 40, zero },
    ]);
  });

  test('a window that is gone stays gone, whatever it had sent before, until it is met again', async () => {
    const { host, attend } = await openDrill();
    const there = () => host.currentWindows?.windows.length;
    await attend(WINDOW_ID);
    host.leaveWindow(WINDOW_ID);
    expect(await attend(WINDOW_ID)).toMatchObject({ ok: false, code: 'not-allowed' });
    expect(there()).toBe(0);
    host.meetWindow(WINDOW_ID);
    await attend(WINDOW_ID);
    expect(there()).toBe(1);
  });

  test('the drill that runs is found with its lines, and none once it is closed', async () => {
    const { host, drillId, send } = await openDrill();
    await send(WINDOW_ID, edgeAt(100));
    const found = await host.current();
    expect(found).toMatchObject({
      ok: true,
      value: { drillId, lines: [{ number: 2, line: edgeAt(100) }], zero: { hostMs: 0, errorMs: null } },
    });
    await send(WINDOW_ID, { kind: 'close', at: 200 });
    expect(await host.current()).toEqual({ ok: true, value: null });
  });
});
