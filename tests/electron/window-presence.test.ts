import { expect, onTestFinished, test } from 'vitest';
import { APP_ADDRESS } from '../../electron/app-protocol.ts';
import { ClassStore } from '../../electron/class-store.ts';
import { type DrillWindows, roleInAddress, windowAddress } from '../../electron/contract.ts';
import { nodeDisk } from '../../electron/disk.ts';
import { makeHandlers } from '../../electron/handlers.ts';
import { serveIpc } from '../../electron/ipc-carrier.ts';
import { JournalHost } from '../../electron/journal-host.ts';
import { Ledger } from '../../electron/ledger/ledger.ts';
import { startLoopback } from '../../electron/loopback.ts';
import { PlanStore } from '../../electron/plan-store.ts';
import { StandardStore } from '../../electron/standard-store.ts';
import { connectLoopback } from '../../renderer/adapters/loopback-carrier.ts';
import { pageFetch } from '../support/carriers.ts';
import { makeIds, OPENED_AT, OTHER_WINDOW_ID, setupOf, WINDOW_ID } from '../support/drills.ts';
import { FakeIpc } from '../support/fake-ipc.ts';
import { makeTempFolder } from '../support/folder-for-test.ts';
import { ForgetfulDisk } from '../support/forgetful-disk.ts';

async function openDrill() {
  const host = new JournalHost({
    disk: new ForgetfulDisk(),
    folder: '/journals',
    newId: makeIds(),
    now: () => new Date(OPENED_AT),
  });
  const opened = await host.openDrill(setupOf());
  if (!opened.ok) throw new Error(opened.message);
  const { drillId } = opened.value;
  const attendance = (windowId: string) => ({
    drillId,
    windowId,
    role: 'instructor' as const,
    hasFocus: true,
    zero: null,
  });
  const there = () => host.currentWindows?.windows.map(({ windowId }) => windowId) ?? [];
  return { host, drillId, attendance, there };
}

const settings = { load: async () => null, save: async () => ({ ok: true, value: null }) as const };
const classes = new ClassStore('/class.json');
const partsOf = (host: JournalHost) => ({
  isAllowed: () => true,
  host,
  ledger: new Ledger({ disk: nodeDisk, folder: '/journals', dataFolder: '/', host, settings, classes }),
  settings,
  plans: new PlanStore('/plans'),
  standards: new StandardStore('/standards'),
  classes,
  facts: { journalFolder: '/journals', shell: 'electron' as const, version: '0.0.0' },
  report: (error: unknown) => {
    throw error;
  },
});

test('over IPC a window whose page ended is gone, and so is the page before one that was loaded anew', async () => {
  const { host, attendance, there } = await openDrill();
  const ipc = new FakeIpc();
  const opened: string[] = [];
  serveIpc({
    ipcMain: ipc.ipcMain,
    handle: makeHandlers({ ...partsOf(host), openWindow: async (role) => void opened.push(role) }),
    windows: () => [ipc.webContents],
    onLinesWritten: (listener) => host.onLinesWritten(listener),
    onWindowsChanged: (listener) => host.onWindowsChanged(listener),
    leaveWindow: (windowId) => host.leaveWindow(windowId),
  });
  const ends: (() => void)[] = [];
  const page = ipc.rendererAt(APP_ADDRESS, null, ends);
  await page.invoke('drill:attend', attendance(WINDOW_ID));
  await page.invoke('drill:attend', attendance(WINDOW_ID));
  expect([there(), ends.length]).toEqual([[WINDOW_ID], 2]);
  await page.invoke('drill:attend', attendance(OTHER_WINDOW_ID));
  expect(there()).toEqual([OTHER_WINDOW_ID]);
  for (const end of ends) end();
  expect(there()).toEqual([]);
  expect(await page.invoke('window:open', { role: 'learners' })).toEqual({ ok: true, value: null });
  expect(opened).toEqual(['learners']);
});

test('over loopback a window whose connection ended is gone, and one that connects hears at once who is there', async () => {
  const { host, attendance, there } = await openDrill();
  const loopback = await startLoopback({
    pageFolder: await makeTempFolder(),
    handlersFor: () => makeHandlers(partsOf(host)),
    onLinesWritten: (listener) => host.onLinesWritten(listener),
    windows: host,
  });
  onTestFinished(() => loopback.close());
  const { origin, secret } = loopback;
  const connect = (windowId: string) =>
    connectLoopback({ origin, secret, windowId, fetch: pageFetch(origin) });
  const next = (carrier: ReturnType<typeof connect>, isSo: (windows: DrillWindows) => boolean) =>
    new Promise<DrillWindows>((resolve) => {
      carrier.listenToWindows((windows) => {
        if (isSo(windows)) resolve(windows);
      });
    });
  const one = connect(WINDOW_ID);
  await next(one, () => true);
  await one.request('drill:attend', attendance(WINDOW_ID));
  const other = connect(OTHER_WINDOW_ID);
  const heard = await next(other, () => true);
  expect(heard.windows.map(({ windowId }) => windowId)).toEqual([WINDOW_ID]);
  const leaving = next(other, ({ windows }) => windows.length === 0);
  one.close();
  await leaving;
  expect(there()).toEqual([]);
  other.close();
});

test('the learners’ window has its role in its address', () => {
  const address = windowAddress('http://127.0.0.1:1/', 'learners');
  expect([address, roleInAddress(new URL(address).search)]).toEqual([
    'http://127.0.0.1:1/?window=learners',
    'learners',
  ]);
  expect(['', '?window=other', '?x=learners'].map(roleInAddress)).toEqual([
    'instructor',
    'instructor',
    'instructor',
  ]);
});
