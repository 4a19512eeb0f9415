import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Acknowledgement, Result } from '../../electron/contract.ts';
import { JournalHost } from '../../electron/journal-host.ts';
import type { BodyLine, DeviceLine } from '../../machines/journal.ts';
import { JournalSender } from '../../renderer/adapters/journal-sender.ts';
import { makeIds, OPENED_AT, OTHER_WINDOW_ID, setupOf, WINDOW_ID } from '../support/drills.ts';
import { FakeHostClock } from '../support/fake-host-clock.ts';
import { ForgetfulDisk } from '../support/forgetful-disk.ts';

/** What one window does: a line so long after its last, known in the page so late, and what its ways take then; in ms. */
type Step = { afterMs: number; lateMs: number; thereMs: number; backMs: number; isAnswerLost: boolean };
type Plan = {
  windows: { steps: Step[]; killedAfter: number | null }[];
  /** Numbers of flushes that fail. */
  failures: number[];
};

const stepOf = (slowestMs: number, loses: boolean) =>
  fc.record({
    afterMs: fc.integer({ min: 0, max: 120 }),
    lateMs: fc.integer({ min: 0, max: 10 }),
    thereMs: fc.integer({ min: 0, max: slowestMs }),
    backMs: fc.integer({ min: 0, max: slowestMs }),
    isAnswerLost: loses ? fc.boolean() : fc.constant(false),
  });
const planOf = (slowestMs: number, troubles: boolean): fc.Arbitrary<Plan> =>
  fc.record({
    windows: fc.array(
      fc.record({
        steps: fc.array(stepOf(slowestMs, troubles), { minLength: 1, maxLength: 12 }),
        killedAfter: troubles ? fc.option(fc.integer({ min: 0, max: 600 })) : fc.constant(null),
      }),
      { minLength: 2, maxLength: 2 },
    ),
    failures: troubles ? fc.array(fc.integer({ min: 0, max: 8 }), { maxLength: 3 }) : fc.constant([]),
  });

test('whatever the ways take, whoever is killed: what was acknowledged is there once, and time never goes back', async () => {
  await fc.assert(
    fc.asyncProperty(planOf(200, true), async (plan) => {
      const { lines, acknowledged, sent } = await play(plan);
      const written = lines.filter(({ kind }) => kind === 'edge');
      expect(lines.map(timeOf)).toEqual(lines.map(timeOf).toSorted((a, b) => a - b));
      for (const [index, windowId] of WINDOWS.entries()) {
        const own = originalTimes(lines, index);
        // A window's lines stand in its own order, none of them twice, and nothing it did not send.
        expect(own).toEqual(sent(windowId).filter((at) => own.includes(at)));
        for (const at of acknowledged(windowId)) expect(own).toContain(at);
      }
      expect(written).toHaveLength(originalTimes(lines, 0).length + originalTimes(lines, 1).length);
    }),
    { numRuns: 150 },
  );
}, 120_000);

test('with ways of 10 ms at the most no line is late, and every line has its own time', async () => {
  await fc.assert(
    fc.asyncProperty(planOf(10, false), async (plan) => {
      const { lines, sent } = await play(plan);
      const times = WINDOWS.flatMap(sent).toSorted((a, b) => a - b);
      expect(lines.map((line) => [line.kind, timeOf(line)])).toEqual(times.map((at) => ['edge', at]));
    }),
    { numRuns: 150 },
  );
}, 120_000);

const WINDOWS = [WINDOW_ID, OTHER_WINDOW_ID];
const SWITCHES = ['chest', 'airway'] as const;
const LAST_MS = 12_000;

/** Plays both windows on one made-up clock, the drill's 0 being the clock's. Whole ms are the first window's, halves the other's. */
async function play({ windows, failures }: Plan) {
  const clock = new FakeHostClock();
  const disk = new ForgetfulDisk();
  disk.failures.set('sync', flushesThatFail(failures));
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
  for (const windowId of WINDOWS)
    await host.attend({ drillId, windowId, role: 'instructor', hasFocus: false, zero: null });
  const wait = (ms: number) => new Promise<void>((resolve) => clock.wake(ms, resolve));
  const sent = new Map<string, number[]>(WINDOWS.map((windowId) => [windowId, []]));
  const acknowledged = new Map<string, number[]>(WINDOWS.map((windowId) => [windowId, []]));
  for (const [index, { steps, killedAfter }] of windows.entries()) {
    const windowId = WINDOWS[index] ?? '';
    let isAlive = true;
    let turn = 0;
    const sender = new JournalSender({
      append: async (batch) => {
        const way = steps[turn % steps.length];
        turn += 1;
        if (way === undefined) throw new Error('a window without steps');
        await wait(way.thereMs);
        const result: Result<Acknowledgement> = await host.append(batch);
        await wait(way.backMs);
        if (!isAlive) return await new Promise(() => undefined);
        const isLost = way.isAnswerLost && turn % 2 === 1;
        return isLost ? { ok: false, code: 'internal', message: 'the answer was lost' } : result;
      },
      drillId,
      windowId,
      wait: () => wait(20),
      onTrouble: () => undefined,
    });
    if (killedAfter !== null) {
      clock.wake(killedAfter, () => {
        isAlive = false;
        host.leaveWindow(windowId);
      });
    }
    let at = index / 2;
    let handledMs = 0;
    for (const [number, step] of steps.entries()) {
      at += step.afterMs + 1;
      const line: BodyLine = { kind: 'edge', at, switch: SWITCHES[index] ?? 'chest', down: number % 2 === 0 };
      const lineMs = at;
      // A page's handlers run in the order of their events.
      handledMs = Math.max(handledMs, at + step.lateMs);
      clock.wake(handledMs, () => {
        if (!isAlive) return;
        sent.get(windowId)?.push(lineMs);
        void sender.send(line).then((result) => {
          if (result.ok) acknowledged.get(windowId)?.push(lineMs);
        });
      });
    }
  }
  await clock.runUntil(LAST_MS);
  const read = await host.read(drillId);
  if (!read.ok) throw new Error(read.message);
  return {
    lines: read.value.lines.map(({ line }) => line),
    sent: (windowId: string) => sent.get(windowId) ?? [],
    acknowledged: (windowId: string) => acknowledged.get(windowId) ?? [],
  };
}

function flushesThatFail(failures: readonly number[]): (string | null)[] {
  return Array.from({ length: 9 }, (_, index) => (failures.includes(index) ? 'ENOSPC' : null));
}

function timeOf(line: BodyLine): number {
  if (line.at === undefined) throw new Error('a line without a time');
  return line.at;
}

/** The times that a window's edges had: of one that came late, what its `late` line gives back. */
function originalTimes(lines: readonly BodyLine[], window: number): number[] {
  return lines.flatMap((line, index) => {
    if (line.kind !== 'edge' || line.switch !== SWITCHES[window]) return [];
    const next = lines[index + 1];
    return [line.at - (isLateNote(next) ? (next.lateMs ?? 0) : 0)];
  });
}

function isLateNote(line: BodyLine | undefined): line is DeviceLine {
  return line?.kind === 'device' && line.what === 'late';
}
