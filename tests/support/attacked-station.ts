import { mkdir, writeFile } from 'node:fs/promises';
import { type Agent, request } from 'node:http';
import { connect, type Socket } from 'node:net';
import { join } from 'node:path';
import { expect, onTestFinished } from 'vitest';
import { nodeDisk } from '../../electron/disk.ts';
import { makeHandlers } from '../../electron/handlers.ts';
import { JournalHost } from '../../electron/journal-host.ts';
import { type Loopback, startLoopback } from '../../electron/loopback.ts';
import { makeIds, OPENED_AT, setupOf } from './drills.ts';
import { makeTempFolder } from './folder-for-test.ts';
import { askRaw, portOf } from './raw-request.ts';
import { storesIn } from './stores.ts';

export type AttackedStation = Loopback & {
  host: string;
  journals: JournalHost;
  folder: string;
  mistakes: unknown[];
  /** The headers of our own window. */
  own: Record<string, string>;
  /** What our own window gets when it asks for the drills. */
  ask: () => Promise<number>;
};

/** The real handlers on a real folder, behind the real server, on a page of two files. */
export async function startAttackedStation(patienceMs?: number): Promise<AttackedStation> {
  const folder = await makeTempFolder();
  const pageFolder = join(folder, 'page');
  await mkdir(join(pageFolder, 'assets'), { recursive: true });
  await writeFile(join(pageFolder, 'index.html'), 'the page');
  await writeFile(join(pageFolder, 'assets', 'page.js'), 'start()');
  await writeFile(join(folder, 'secret.json'), '"not to be read"');
  const host = new JournalHost({
    disk: nodeDisk,
    folder: join(folder, 'journals'),
    newId: makeIds(),
    now: () => new Date(OPENED_AT),
  });
  const mistakes: unknown[] = [];
  const loopback = await startLoopback({
    pageFolder,
    handlersFor: (isAllowed) =>
      makeHandlers({
        isAllowed,
        host,
        ...storesIn(folder, host),
        facts: { journalFolder: join(folder, 'journals'), shell: 'browser', version: '0.0.0' },
        report: (error) => mistakes.push(error),
      }),
    onLinesWritten: (listener) => host.onLinesWritten(listener),
    windows: host,
    ...(patienceMs === undefined
      ? {}
      : { patience: { headersMs: patienceMs, requestMs: 2 * patienceMs, lookEveryMs: 20 } }),
  });
  onTestFinished(async () => {
    await loopback.close();
    await host.leave();
  });
  const own = {
    host: new URL(loopback.origin).host,
    origin: loopback.origin,
    'x-antiphon-secret': loopback.secret,
    'content-type': 'application/json',
  };
  const ask = async () => (await askRaw(loopback.origin, '/request/drill:list', own, 'null')).status;
  return { ...loopback, host: own.host, journals: host, folder, mistakes, own, ask };
}

/** The first line's number of each answer that came back. */
export function statusesIn(text: string): number[] {
  return [...text.matchAll(/^HTTP\/1\.1 (\d{3}) /gm)].map((match) => Number(match[1]));
}

export function requestText(
  station: AttackedStation,
  first: string,
  headers: Record<string, string>,
  body = '',
): string {
  const all = { ...station.own, ...headers };
  const lines = Object.entries(all).map(([name, value]) => `${name}: ${value}\r\n`);
  return `${first} HTTP/1.1\r\n${lines.join('')}\r\n${body}`;
}

/** Sends a head and then the same part over and over, as fast as it is taken, until it is cut off or all is sent. */
export function pour(
  station: AttackedStation,
  head: string,
  part: Buffer,
  bytes: number,
): Promise<{ sent: number; text: string }> {
  return new Promise((resolve) => {
    let sent = 0;
    let text = '';
    const socket = connect(portOf(station.origin), '127.0.0.1', () => {
      socket.write(head);
      more();
    });
    const more = (): void => {
      while (sent < bytes && !socket.destroyed) {
        sent += part.length;
        if (!socket.write(part)) return;
      }
    };
    socket.on('drain', more);
    socket.on('data', (answer: Buffer) => {
      text += answer.toString('latin1');
    });
    socket.on('error', () => undefined);
    socket.on('close', () => resolve({ sent, text }));
  });
}

/** Asks for the drills over a connection that may be kept: the status, and whether the connection was one from before. */
export function askOver(agent: Agent, station: AttackedStation): Promise<[number | undefined, boolean]> {
  const { hostname, port } = new URL(station.origin);
  return new Promise((resolve, reject) => {
    const options = {
      agent,
      hostname,
      port,
      path: '/request/drill:list',
      method: 'POST',
      headers: station.own,
    };
    const asked = request(options, (answer) => {
      answer.resume();
      answer.on('end', () => resolve([answer.statusCode, asked.reusedSocket]));
    });
    asked.on('error', reject);
    asked.end('null');
  });
}

/** A drill is opened and attended: the stream of lines says so. */
export async function expectNews(
  station: AttackedStation,
  reader: ReadableStreamDefaultReader<Uint8Array> | undefined,
): Promise<void> {
  const opened = await station.journals.openDrill(setupOf());
  if (!opened.ok) throw new Error(opened.message);
  const { drillId } = opened.value;
  await station.journals.attend({ drillId, windowId: 'w', role: 'instructor', hasFocus: true, zero: null });
  expect(new TextDecoder().decode((await reader?.read())?.value)).toContain(drillId);
  await reader?.cancel();
}

export function closed(socket: Socket): Promise<void> {
  return new Promise((resolve) => socket.once('close', () => resolve()));
}
