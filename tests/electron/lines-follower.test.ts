import { expect, test } from 'vitest';
import type { DrillText, LinesWritten, Result } from '../../electron/contract.ts';
import { LinesFollower } from '../../renderer/adapters/lines-follower.ts';
import { edges, numbered, openLineOf } from '../support/drills.ts';

const open = openLineOf();
const drillId = open.id;
const textOf = (count: number): Result<DrillText> => ({
  ok: true,
  value: { drillId, fileName: 'a', open, lines: numbered(edges(count)), isClosed: false },
});
const written = (from: number, count: number): LinesWritten => ({
  drillId,
  lines: numbered(edges(count, from), from + 1),
});

/** Connections that the test opens, writes to and breaks. */
function makeRig(readDrill: () => Promise<Result<DrillText>>) {
  const connections: { send: (value: unknown) => void; cut: () => void }[] = [];
  const heard: number[] = [];
  const waits: number[] = [];
  let onChange = (): void => undefined;
  const follower = new LinesFollower({
    connect: async (signal) => {
      const { readable, writable } = new TransformStream<Uint8Array, Uint8Array>();
      const writer = writable.getWriter();
      const cut = () => void writer.abort(new Error('cut')).catch(() => undefined);
      signal.addEventListener('abort', cut);
      connections.push({
        send: (value) => void writer.write(Buffer.from(`${JSON.stringify(value)}\n`)),
        cut,
      });
      onChange();
      return new Response(readable);
    },
    readDrill,
    wait: async (ms) => {
      waits.push(ms);
    },
  });
  const listen = () =>
    follower.listen(({ lines }) => {
      heard.push(...lines.map(({ number }) => number));
      onChange();
    });
  const until = async (isSo: () => boolean) => {
    while (!isSo()) {
      await new Promise<void>((resolve) => {
        onChange = resolve;
      });
    }
  };
  return { follower, connections, heard, waits, listen, until };
}

test('lines written before the window was connected are told first', async () => {
  const { follower, heard, listen, until } = makeRig(async () => textOf(3));
  follower.startAfter({ drillId }, 1);
  listen();
  await until(() => heard.length === 3);
  expect(heard).toEqual([2, 3, 4]);
  follower.close();
});

test('what was missed while the connection was broken is told once and in order', async () => {
  let count = 0;
  const { follower, connections, heard, listen, until } = makeRig(async () => textOf(count));
  follower.startAfter({ drillId }, 1);
  listen();
  await until(() => connections.length === 1);
  connections[0]?.send(written(1, 2));
  await until(() => heard.length === 2);
  count = 5;
  connections[0]?.cut();
  await until(() => connections.length === 2);
  connections[1]?.send(written(5, 3));
  await until(() => heard.length === 7);
  expect(heard).toEqual([2, 3, 4, 5, 6, 7, 8]);
  follower.close();
});

test('a drill that cannot be read just now breaks the connection rather than leave a gap', async () => {
  let reads = 0;
  const { follower, heard, waits, listen, until } = makeRig(async () => {
    reads += 1;
    return reads < 3 ? { ok: false, code: 'internal', message: '' } : textOf(2);
  });
  follower.startAfter({ drillId }, 1);
  listen();
  await until(() => heard.length === 2);
  expect([heard, waits.length]).toEqual([[2, 3], 2]);
  follower.close();
});

test('the wait between attempts grows, up to five seconds', async () => {
  const waits: number[] = [];
  let stop = (): void => undefined;
  const ended = new Promise<void>((resolve) => {
    const follower = new LinesFollower({
      connect: () => Promise.reject(new Error('refused')),
      readDrill: async () => textOf(0),
      wait: async (ms) => {
        waits.push(ms);
        if (waits.length < 7) return;
        stop();
        resolve();
      },
    });
    stop = follower.listen(() => undefined);
  });
  await ended;
  expect(waits).toEqual([250, 500, 1000, 2000, 4000, 5000, 5000]);
});
