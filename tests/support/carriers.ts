import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import { APP_ADDRESS, APP_HOST, APP_SCHEME } from '../../electron/app-protocol.ts';
import { type Bridge, makeBridge, type Result, type StationFacts } from '../../electron/contract.ts';
import { type Disk, nodeDisk } from '../../electron/disk.ts';
import { makeHandlers } from '../../electron/handlers.ts';
import { makeIpcCarrier, makeIpcGuard, serveIpc } from '../../electron/ipc-carrier.ts';
import { JournalHost } from '../../electron/journal-host.ts';
import { startLoopback } from '../../electron/loopback.ts';
import { connectLoopback } from '../../renderer/adapters/loopback-carrier.ts';
import { makeIds, OPENED_AT } from './drills.ts';
import { FakeIpc } from './fake-ipc.ts';
import { makeTempFolder } from './folder-for-test.ts';
import { askRaw } from './raw-request.ts';
import { storesIn } from './stores.ts';

export type StationParts = {
  folder: string;
  host: JournalHost;
  facts: StationFacts;
  mistakes: unknown[];
} & ReturnType<typeof storesIn>;
export type CarriedStation = StationParts & {
  bridge: Bridge;
  /** Asks as the window does, but with whatever argument. */
  ask: (channel: string, argument: unknown) => Promise<Result<unknown>>;
  /** Asks as somebody else does, in every way there is to be somebody else. */
  strangers: Record<string, (channel: string, argument: unknown) => Promise<Result<unknown>>>;
};

/** The same station behind each of the two carriers. */
export const CARRIERS: Record<string, (disk?: Disk) => Promise<CarriedStation>> = {
  'Electron IPC': startOverIpc,
  'loopback HTTP': startOverLoopback,
};

async function makeStation(disk: Disk): Promise<StationParts> {
  const folder = await makeTempFolder();
  const journalFolder = join(folder, 'journals');
  const host = new JournalHost({
    disk,
    folder: journalFolder,
    newId: makeIds(),
    now: () => new Date(OPENED_AT),
  });
  onTestFinished(() => host.leave());
  return {
    folder,
    host,
    ...storesIn(folder, host, disk),
    facts: { journalFolder, shell: 'browser', version: '0.0.0' },
    mistakes: [],
  };
}

async function startOverIpc(disk: Disk = nodeDisk): Promise<CarriedStation> {
  const station = await makeStation(disk);
  const ipc = new FakeIpc();
  const isAllowed = makeIpcGuard({ protocol: `${APP_SCHEME}:`, host: APP_HOST });
  serveIpc({
    ipcMain: ipc.ipcMain,
    handle: makeHandlers({ ...station, isAllowed, report: (error) => station.mistakes.push(error) }),
    windows: () => [ipc.webContents],
    onLinesWritten: (listener) => station.host.onLinesWritten(listener),
    onWindowsChanged: (listener) => station.host.onWindowsChanged(listener),
    leaveWindow: (windowId) => station.host.leaveWindow(windowId),
  });
  const own = ipc.rendererAt(APP_ADDRESS);
  const askFrom = (url: string, parent: unknown = null) => {
    const renderer = ipc.rendererAt(url, parent);
    return async (channel: string, argument: unknown) =>
      (await renderer.invoke(channel, argument)) as Result<unknown>;
  };
  return {
    ...station,
    bridge: makeBridge(makeIpcCarrier(own)),
    ask: askFrom(APP_ADDRESS),
    strangers: {
      'another site': askFrom('https://example.org/'),
      'a site with our address in its own': askFrom(`https://example.org/${APP_ADDRESS}`),
      'a host that begins like ours': askFrom('antiphon-app://station.example.org/'),
      'a file': askFrom('file:///antiphon-app/station'),
      'no address': askFrom(''),
      'a frame inside our page': askFrom(APP_ADDRESS, {}),
    },
  };
}

async function startOverLoopback(disk: Disk = nodeDisk): Promise<CarriedStation> {
  const station = await makeStation(disk);
  const loopback = await startLoopback({
    pageFolder: station.folder,
    handlersFor: (isAllowed) =>
      makeHandlers({ ...station, isAllowed, report: (error) => station.mistakes.push(error) }),
    onLinesWritten: (listener) => station.host.onLinesWritten(listener),
    windows: station.host,
  });
  const { origin, secret } = loopback;
  const carrier = connectLoopback({ origin, secret, fetch: pageFetch(origin) });
  onTestFinished(async () => {
    carrier.close();
    await loopback.close();
  });
  const port = new URL(origin).port;
  const askWith = (changes: Record<string, string | null>) => {
    const all: Record<string, string | null> = {
      host: `127.0.0.1:${port}`,
      origin,
      'x-antiphon-secret': secret,
      'content-type': 'application/json',
      ...changes,
    };
    const headers = Object.fromEntries(Object.entries(all).filter(([, value]) => value !== null)) as Record<
      string,
      string
    >;
    return async (channel: string, argument: unknown) => {
      const { body } = await askRaw(origin, `/request/${channel}`, headers, JSON.stringify(argument ?? null));
      return JSON.parse(body) as Result<unknown>;
    };
  };
  return {
    ...station,
    bridge: makeBridge(carrier),
    ask: askWith({}),
    strangers: {
      'no secret': askWith({ 'x-antiphon-secret': null }),
      'a wrong secret': askWith({
        'x-antiphon-secret': `${secret.slice(0, -1)}${secret.endsWith('A') ? 'Q' : 'A'}`,
      }),
      'a host of another name': askWith({ host: `localhost:${port}` }),
      'a host without its port': askWith({ host: '127.0.0.1' }),
      'another site': askWith({ origin: 'https://example.org' }),
      'no site': askWith({ origin: null }),
      'another port': askWith({ origin: 'http://127.0.0.1:1' }),
    },
  };
}

/** `fetch` as a page of that origin has it: the browser adds the Origin itself. */
export function pageFetch(origin: string): typeof fetch {
  return (input, init) =>
    fetch(input, { ...init, headers: { ...(init?.headers as Record<string, string>), origin } });
}
