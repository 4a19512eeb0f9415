import { readdir } from 'node:fs/promises';
import { Agent } from 'node:http';
import { connect } from 'node:net';
import { expect, onTestFinished, test } from 'vitest';
import { MAX_BODY_BYTES } from '../../electron/loopback.ts';
import { MAX_STRANGERS } from '../../electron/loopback-crowd.ts';
import {
  askOver,
  closed,
  expectNews,
  pour,
  requestText,
  startAttackedStation,
  statusesIn,
} from '../support/attacked-station.ts';
import { askBytes, askRaw, portOf } from '../support/raw-request.ts';

const FOREIGN: [string, Record<string, string>][] = [
  ['another site', { origin: 'https://example.org' }],
  ['another port of this computer', { origin: 'http://127.0.0.1:1' }],
  ['our address with a name before it', { origin: 'http://127.0.0.1.example.org' }],
  ['a page in a frame without an origin', { origin: 'null' }],
  ['our origin said over https', { origin: 'https://HOST' }],
  ['another site’s script that hides where it is', { origin: '', 'sec-fetch-site': 'cross-site' }],
  ['a name that was turned to this address', { host: 'rebound.example.org' }],
  ['such a name with our port', { host: 'rebound.example.org:PORT' }],
  ['localhost', { host: 'localhost:PORT' }],
  ['this address written otherwise', { host: '2130706433:PORT' }],
  ['this address with a dot behind it', { host: '127.0.0.1.:PORT' }],
  ['no secret', { 'x-antiphon-secret': '' }],
  ['a wrong secret', { 'x-antiphon-secret': 'A'.repeat(43) }],
  ['half of the secret', { 'x-antiphon-secret': 'HALF' }],
  ['the secret twice over', { 'x-antiphon-secret': 'TWICE' }],
];

test.each(FOREIGN)('%s gets neither an answer nor the stream of lines', async (_who, changes) => {
  const station = await startAttackedStation();
  const headers = Object.fromEntries(
    Object.entries({ ...station.own, ...changes })
      .map(([name, value]) => [
        name,
        value
          .replace('HOST', station.host)
          .replace('PORT', String(portOf(station.origin)))
          .replace('HALF', station.secret.slice(0, 21))
          .replace('TWICE', station.secret.repeat(2)),
      ])
      .filter(([, value]) => value !== ''),
  );
  const asked = await askRaw(station.origin, '/request/drill:list', headers, 'null');
  const heard = await askRaw(station.origin, '/lines', headers);
  expect([asked.status, heard.status]).toEqual([403, 403]);
  expect(asked.headers).not.toHaveProperty('access-control-allow-origin');
});

test.each([
  ['a second Host', 'host: rebound.example.org'],
  ['a second Origin', 'origin: https://example.org'],
  ['a second secret', 'x-antiphon-secret: A'],
])('%s beside ours is refused', async (_what, line) => {
  const station = await startAttackedStation();
  const text = requestText(station, 'POST /request/drill:list', { 'content-length': '4' }, 'null');
  const [before, after] = [
    text.replace('\r\n', `\r\n${line}\r\n`),
    text.replace(/\r\n\r\n/, `\r\n${line}\r\n\r\n`),
  ];
  for (const twice of [before, after]) {
    const [status] = statusesIn(await askBytes(station.origin, twice));
    expect(status).toBeGreaterThanOrEqual(400);
  }
  expect(await station.ask()).toBe(200);
});

test.each([
  '/../secret.json',
  '/assets/../../secret.json',
  '/%2e%2e/secret.json',
  '/%2E%2E%2Fsecret.json',
  '/..%2fsecret.json',
  '/..%5csecret.json',
  '/..\\secret.json',
  '/assets\\..\\..\\secret.json',
  '/..;/secret.json',
  '/.%00./secret.json',
  '/secret.json%00.js',
  '//127.0.0.1/secret.json',
  '///etc/passwd',
  '/assets/./page.js',
  '/assets//page.js',
  '/%61ssets/page.js',
  '/file:///etc/passwd',
  '/~root/.profile',
  '/C:/Windows/win.ini',
  'http://127.0.0.1/index.html',
  'http://rebound.example.org/index.html',
  'file:///etc/passwd',
  '*',
  '@example.org/',
  '/request/../index.html',
])('the path %s leads nowhere', async (path) => {
  const station = await startAttackedStation();
  const text = await askBytes(station.origin, requestText(station, `GET ${path}`, { connection: 'close' }));
  const [status] = statusesIn(text);
  expect(status).toBeGreaterThanOrEqual(400);
  expect(status).toBeLessThan(500);
  expect(text).not.toMatch(/not to be read|root:|the page|start\(\)/);
});

test.each([
  ['a NUL in the path', 'GET /index.html\0.js'],
  ['a line break in the path', 'GET /index.html\r\nx: y'],
  ['a space in the path', 'GET /index .html'],
  ['no path', 'GET'],
  ['a method of no kind', 'SUMMON /'],
  ['another protocol', 'GET / HTTP/9.9\r\nx: y\r\n\r\n'],
  ['an older protocol', 'GET / HTTP/1.0\r\nx: y'],
])('%s is cut off', async (_what, first) => {
  const station = await startAttackedStation();
  const text = await askBytes(station.origin, requestText(station, first, { connection: 'close' }));
  expect(text).not.toContain('the page');
  for (const status of statusesIn(text)) expect(status).toBeGreaterThanOrEqual(400);
  expect(await station.ask()).toBe(200);
});

test.each(['PUT', 'DELETE', 'PATCH', 'OPTIONS', 'TRACE', 'HEAD', 'PROPFIND', 'CONNECT'])(
  '%s is no way to ask',
  async (method) => {
    const station = await startAttackedStation();
    for (const path of ['/', '/request/drill:list', '/lines']) {
      const text = await askBytes(
        station.origin,
        requestText(station, `${method} ${path}`, { connection: 'close', 'content-length': '0' }),
      );
      for (const status of statusesIn(text)) expect([400, 405]).toContain(status);
      expect(text).not.toMatch(/the page|x-antiphon-secret/);
    }
  },
);

test('an upgrade to another protocol is not taken up', async () => {
  const station = await startAttackedStation();
  const asked = requestText(station, 'GET /lines', {
    'x-antiphon-secret': '',
    connection: 'upgrade',
    upgrade: 'websocket',
    'sec-websocket-key': 'AAAAAAAAAAAAAAAAAAAAAA==',
    'sec-websocket-version': '13',
  });
  expect(statusesIn(await askBytes(station.origin, asked))).toEqual([403]);
});

test.each([
  'text/plain',
  'application/x-www-form-urlencoded',
  'multipart/form-data; boundary=x',
  'application/json; charset=utf-8',
  'application/json, text/plain',
])('a body said to be %s is not read, since forms of other sites can send that', async (type) => {
  const station = await startAttackedStation();
  const headers = { ...station.own, 'content-type': type };
  expect(await askRaw(station.origin, '/request/drill:list', headers, 'null')).toMatchObject({ status: 415 });
});

test.each([
  ['nested a hundred thousand deep', '['.repeat(100_000) + ']'.repeat(100_000)],
  ['that reaches for the prototype', '{"__proto__":{"isAllowed":true},"constructor":{"prototype":{"a":1}}}'],
  ['of one number of a hundred thousand digits', '9'.repeat(100_000)],
  ['of bytes that are no text', '\u0000'],
  ['that is empty', ''],
])('a body %s is refused as an argument', async (_what, body) => {
  const station = await startAttackedStation();
  const answer = await askRaw(station.origin, '/request/settings:save', station.own, body);
  expect([200, 400]).toContain(answer.status);
  expect(JSON.parse(answer.body)).toMatchObject({ ok: false, code: 'bad-argument' });
  expect([station.mistakes, ({} as Record<string, unknown>).isAllowed]).toEqual([[], undefined]);
  expect(await readdir(station.folder)).not.toContain('settings.json');
});

test.each([
  ['says its length', { 'content-length': '1000000000' }, (part: Buffer) => part],
  [
    'does not say its length',
    { 'transfer-encoding': 'chunked' },
    (part: Buffer) =>
      Buffer.concat([Buffer.from(`${part.length.toString(16)}\r\n`), part, Buffer.from('\r\n')]),
  ],
])('a body of 1 GB that %s is cut off early and kept nowhere', async (_what, headers, wrap) => {
  const station = await startAttackedStation();
  const before = process.memoryUsage().rss;
  const part = wrap(Buffer.alloc(64 * 1024, ' '));
  const { sent, text } = await pour(
    station,
    requestText(station, 'POST /request/drill:list', headers),
    part,
    1_000_000_000,
  );
  // What the system itself buffers between two ends comes on top of what was read.
  expect(sent).toBeLessThan(MAX_BODY_BYTES + 16 * 1024 * 1024);
  expect(process.memoryUsage().rss - before).toBeLessThan(100 * 1024 * 1024);
  for (const status of statusesIn(text)) expect(status).toBe(413);
  expect(await station.ask()).toBe(200);
});

test.each([
  ['both lengths', 'content-length: 4\r\ntransfer-encoding: chunked'],
  ['two lengths', 'content-length: 4\r\ncontent-length: 400'],
  ['a length with a sign', 'content-length: +4'],
  ['a length that is text', 'content-length: 4x'],
  ['a coding with a blank before the colon', 'transfer-encoding : chunked'],
  ['a coding of no kind', 'transfer-encoding: xchunked'],
  ['chunked twice', 'transfer-encoding: chunked, chunked'],
  ['a coding after a folded line', 'x: y\r\n transfer-encoding: chunked'],
  ['a length after a bare line feed', 'x: y\ncontent-length: 4'],
])('a request with %s hides no second one in its body', async (_what, lines) => {
  const station = await startAttackedStation();
  const hidden = requestText(station, 'GET /index.html', { connection: 'close' });
  const first = requestText(station, 'POST /request/drill:list', {}).replace(
    '\r\n\r\n',
    `\r\n${lines}\r\n\r\n`,
  );
  const text = await askBytes(station.origin, `${first}0\r\n\r\n${hidden}`);
  expect(statusesIn(text)).toEqual([400]);
  expect(text).not.toContain('the page');
});

test('headers longer than the limit, or without end, are refused', async () => {
  const station = await startAttackedStation();
  const long = requestText(station, 'GET /', { cookie: 'x'.repeat(17_000) });
  expect(statusesIn(await askBytes(station.origin, long))).toEqual([431]);
  const many = Object.fromEntries(Array.from({ length: 3000 }, (_, index) => [`x-${index}`, 'y']));
  expect(statusesIn(await askBytes(station.origin, requestText(station, 'GET /', many)))).toEqual([431]);
  const { sent } = await pour(station, 'GET / HTTP/1.1\r\n', Buffer.from(`x: ${'y'.repeat(1000)}\r\n`), 1e9);
  expect(sent).toBeLessThan(16 * 1024 * 1024);
  expect(await station.ask()).toBe(200);
});

test.each([
  ['nothing at all', ''],
  ['a request that stops in its headers', 'GET / HTTP/1.1\r\nhost: x\r\n'],
  ['half a line', 'GE'],
])('who connects and sends %s is not waited for', async (_what, text) => {
  const station = await startAttackedStation(200);
  expect(statusesIn(await askBytes(station.origin, text))).toEqual([408]);
});

test('a body that does not come is not waited for', async () => {
  const station = await startAttackedStation(200);
  const text = requestText(station, 'POST /request/drill:list', { 'content-length': '4' }, 'nu');
  const statuses = statusesIn(await askBytes(station.origin, text));
  expect(statuses.every((status) => status === 408 || status === 400)).toBe(true);
  expect(station.mistakes).toEqual([]);
});

test('headers that dribble in are not waited for, however steadily they come', async () => {
  const station = await startAttackedStation(200);
  const socket = connect(portOf(station.origin), '127.0.0.1');
  socket.on('error', () => undefined);
  socket.write('GET / HTTP/1.1\r\n');
  const dribble = setInterval(() => socket.write('x: y\r\n'), 20);
  onTestFinished(() => clearInterval(dribble));
  socket.resume();
  await closed(socket);
});

test('our window’s stream of lines and its idle connection outlast every limit for slow senders', async () => {
  const station = await startAttackedStation(100);
  const lines = await fetch(`${station.origin}/lines`, { headers: { 'x-antiphon-secret': station.secret } });
  const reader = lines.body?.getReader();
  await reader?.read();
  const agent = new Agent({ keepAlive: true, maxSockets: 1 });
  onTestFinished(() => agent.destroy());
  expect(await askOver(agent, station)).toEqual([200, false]);
  // Three strangers in turn are waited for as long as anybody is: more than a request may take.
  for (let turn = 0; turn < 3; turn += 1) await askBytes(station.origin, '');
  expect(await askOver(agent, station)).toEqual([200, true]);
  await expectNews(station, reader);
});

test('with a thousand strangers connected our own window is answered, and most of them are sent away', async () => {
  const station = await startAttackedStation();
  const lines = await fetch(`${station.origin}/lines`, { headers: { 'x-antiphon-secret': station.secret } });
  const reader = lines.body?.getReader();
  await reader?.read();
  const strangers = Array.from({ length: 1000 }, () => connect(portOf(station.origin), '127.0.0.1'));
  onTestFinished(() => {
    for (const stranger of strangers) stranger.destroy();
  });
  const gone = strangers.map((stranger) => {
    stranger.on('error', () => undefined);
    stranger.resume();
    return closed(stranger);
  });
  // The longest waiting go first, so that the last of the first nine hundred is gone when all have come.
  await Promise.all(gone.slice(0, 1000 - MAX_STRANGERS));
  for (let asked = 0; asked < 20; asked += 1) expect(await station.ask()).toBe(200);
  expect(strangers.filter((stranger) => !stranger.destroyed).length).toBeLessThanOrEqual(MAX_STRANGERS);
  // The window's own stream, which came before all of them, still tells what happens.
  await expectNews(station, reader);
});
