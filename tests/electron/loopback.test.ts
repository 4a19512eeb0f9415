import { mkdir, writeFile } from 'node:fs/promises';
import { request } from 'node:http';
import { join } from 'node:path';
import { PassThrough } from 'node:stream';
import { expect, onTestFinished, test } from 'vitest';
import type { LinesWritten } from '../../electron/contract.ts';
import { LineStreams, MAX_WAITING_BYTES } from '../../electron/line-streams.ts';
import { type Loopback, MAX_BODY_BYTES, startLoopback } from '../../electron/loopback.ts';
import { connectLoopback, takeSecret } from '../../renderer/adapters/loopback-carrier.ts';
import { pageFetch } from '../support/carriers.ts';
import { edges, numbered, openLineOf } from '../support/drills.ts';
import { makeTempFolder } from '../support/folder-for-test.ts';
import { askRaw } from '../support/raw-request.ts';

type Station = Loopback & {
  tell: (written: LinesWritten) => void;
  asked: string[];
  windows: number[];
  onWindow: () => Promise<void>;
};

async function startStation(): Promise<Station> {
  const pageFolder = await makeTempFolder();
  await mkdir(join(pageFolder, 'assets'));
  await writeFile(join(pageFolder, 'index.html'), '<p>page</p>');
  await writeFile(join(pageFolder, 'assets', 'page.js'), 'start()');
  let tell = (_written: LinesWritten): void => undefined;
  let wake = (): void => undefined;
  const asked: string[] = [];
  const windows: number[] = [];
  const loopback = await startLoopback({
    pageFolder,
    handlersFor: () => async (channel) => {
      asked.push(channel);
      return { ok: true, value: null };
    },
    onLinesWritten: (listener) => {
      tell = listener;
      return () => undefined;
    },
    windows: {
      onWindowsChanged: () => () => undefined,
      currentWindows: null,
      meetWindow: () => undefined,
      leaveWindow: () => undefined,
    },
    onWindows: (count) => {
      windows.push(count);
      wake();
    },
  });
  onTestFinished(() => loopback.close());
  const onWindow = () =>
    new Promise<void>((resolve) => {
      wake = resolve;
    });
  return { ...loopback, tell: (written) => tell(written), asked, windows, onWindow };
}

const hostOf = ({ origin }: Loopback) => ({ host: new URL(origin).host });
const ownHeaders = (station: Loopback) => ({
  ...hostOf(station),
  origin: station.origin,
  'x-antiphon-secret': station.secret,
  'content-type': 'application/json',
});

test('the page is served isolated, with a content policy that starts from none', async () => {
  const station = await startStation();
  const page = await askRaw(station.origin, '/', hostOf(station));
  expect([page.status, page.body, page.headers['content-type']]).toEqual([
    200,
    '<p>page</p>',
    'text/html; charset=utf-8',
  ]);
  expect(page.headers).toMatchObject({
    'content-security-policy': expect.stringMatching(/^default-src 'none'; /),
    'cross-origin-opener-policy': 'same-origin',
    'cross-origin-embedder-policy': 'require-corp',
    'cross-origin-resource-policy': 'same-origin',
    'x-content-type-options': 'nosniff',
    'referrer-policy': 'no-referrer',
  });
  expect(await askRaw(station.origin, '/assets/page.js?v=1', hostOf(station))).toMatchObject({
    status: 200,
    body: 'start()',
  });
});

test('nothing that is served holds the secret', async () => {
  const station = await startStation();
  for (const path of ['/', '/assets/page.js', '/none']) {
    const answer = await askRaw(station.origin, path, hostOf(station));
    expect(JSON.stringify(answer)).not.toContain(station.secret);
  }
  expect(Buffer.from(station.secret, 'base64url')).toHaveLength(32);
  expect(station.address).toBe(`${station.origin}/#${station.secret}`);
});

test.each([
  '/../package.json',
  '/%2e%2e/package.json',
  '/assets/..%2f..%2fx.json',
  '//etc/passwd',
  '/assets/',
  '/none.html',
  '/index.html%00.js',
])('the path %s leads nowhere', async (path) => {
  const station = await startStation();
  expect(await askRaw(station.origin, path, hostOf(station))).toMatchObject({ status: 404 });
});

test('the page is not served to another name of this address', async () => {
  const { origin } = await startStation();
  for (const host of ['localhost', 'evil.example', `localhost:${new URL(origin).port}`]) {
    expect(await askRaw(origin, '/', { host })).toMatchObject({ status: 403 });
  }
});

test.each([
  ['a body that is not JSON', {}, '{', 400],
  ['another content type', { 'content-type': 'text/plain' }, 'null', 415],
  ['a body longer than the limit', {}, JSON.stringify('x'.repeat(MAX_BODY_BYTES)), 413],
])('%s is answered by its own status', async (_what, headers, body, status) => {
  const station = await startStation();
  const answer = await askRaw(
    station.origin,
    '/request/drill:list',
    { ...ownHeaders(station), ...headers },
    body,
  );
  expect(answer.status).toBe(status);
  expect(station.asked).toEqual([]);
});

test('a body that grows past the limit without saying so is cut off', async () => {
  const station = await startStation();
  const { hostname, port } = new URL(station.origin);
  const status = await new Promise((resolve, reject) => {
    const asked = request({
      hostname,
      port,
      path: '/request/drill:list',
      method: 'POST',
      headers: ownHeaders(station),
    });
    asked.on('response', (answer) => {
      resolve(answer.statusCode);
      asked.destroy();
    });
    asked.on('error', reject);
    const part = Buffer.alloc(256 * 1024, ' ');
    for (let sent = 0; sent < 5; sent += 1) asked.write(part);
  });
  expect(status).toBe(413);
  expect(station.asked).toEqual([]);
});

test('an unknown request, another method and a preflight of another site get nothing', async () => {
  const station = await startStation();
  expect(await askRaw(station.origin, '/request/drill:burn', ownHeaders(station), 'null')).toMatchObject({
    status: 404,
  });
  expect(await askRaw(station.origin, '/lines', ownHeaders(station), 'null')).toMatchObject({ status: 405 });
  const preflight = await fetch(`${station.origin}/request/drill:list`, {
    method: 'OPTIONS',
    headers: { origin: 'https://example.org' },
  });
  expect([preflight.status, preflight.headers.get('access-control-allow-origin')]).toEqual([405, null]);
});

test('the stream of lines is for the window alone', async () => {
  const station = await startStation();
  const own = { ...hostOf(station), 'x-antiphon-secret': station.secret };
  const refused = [
    hostOf(station),
    { ...own, origin: 'https://example.org' },
    { ...own, 'sec-fetch-site': 'cross-site' },
    { ...own, 'x-antiphon-secret': 'x' },
  ];
  for (const headers of refused)
    expect(await askRaw(station.origin, '/lines', headers)).toMatchObject({ status: 403 });
  expect(station.windows).toEqual([]);
});

test('a window that comes and goes is counted, and hears of lines while it is there', async () => {
  const station = await startStation();
  const carrier = connectLoopback({ ...station, fetch: pageFetch(station.origin) });
  const written = { drillId: openLineOf().id, lines: numbered(edges(1)) };
  const opened = station.onWindow();
  const heard = new Promise((resolve) => carrier.listen(resolve));
  await opened;
  station.tell(written);
  expect(await heard).toEqual(written);
  const gone = station.onWindow();
  carrier.close();
  await gone;
  expect(station.windows).toEqual([1, 0]);
});

test('a window that does not read is cut off before it fills the memory', () => {
  const streams = new LineStreams(() => undefined);
  const deaf = new PassThrough();
  streams.add(deaf);
  const written = {
    drillId: openLineOf().id,
    lines: numbered([{ kind: 'note', at: 1, text: 'x'.repeat(4000) }]),
  };
  for (let told = 0; told < 1100; told += 1) streams.tell(written);
  expect(deaf.destroyed).toBe(true);
  expect(MAX_WAITING_BYTES).toBeLessThan(1100 * 4000);
  streams.close();
});

test('a server that is gone is a failure, not an exception', async () => {
  const station = await startStation();
  await station.close();
  const carrier = connectLoopback({ ...station, fetch: pageFetch(station.origin) });
  expect(await carrier.request('drill:list', null)).toEqual({
    ok: false,
    code: 'internal',
    message: 'the station does not answer',
  });
});

test('the page takes the secret out of its address and finds it again after a reload', () => {
  const secret = 'A'.repeat(43);
  const kept = new Map<string, string>();
  const storage = {
    getItem: (key: string) => kept.get(key) ?? null,
    setItem: (key: string, value: string) => void kept.set(key, value),
  };
  let cleared = 0;
  const takeFrom = (hash: string) =>
    takeSecret({
      hash,
      kept: storage,
      clearHash: () => {
        cleared += 1;
      },
    });
  expect([takeFrom(''), takeFrom(`#${secret}x`), takeFrom(`#${secret}`), takeFrom(''), cleared]).toEqual([
    null,
    null,
    secret,
    secret,
    1,
  ]);
});
