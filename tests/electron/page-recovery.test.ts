import { join } from 'node:path';
import { expect, onTestFinished, test, vi } from 'vitest';
import { APP_ADDRESS } from '../../electron/app-protocol.ts';
import { makeBridge } from '../../electron/contract.ts';
import { nodeDisk } from '../../electron/disk.ts';
import { makeIpcCarrier } from '../../electron/ipc-carrier.ts';
import { JournalHost } from '../../electron/journal-host.ts';
import { WindowPlaces } from '../../electron/window-places.ts';
import { edges, makeIds, OPENED_AT, OTHER_WINDOW_ID, setupOf, WINDOW_ID } from '../support/drills.ts';
import { type FakeDesktop, FakeWindow, makeDesktop } from '../support/fake-desktop.ts';
import { FakeIpc } from '../support/fake-ipc.ts';
import { makeTempFolder } from '../support/folder-for-test.ts';
import { serveFakeDesktop } from '../support/served-desktop.ts';

const LEARNERS = `${APP_ADDRESS}?window=learners`;

async function openWindows(): Promise<{ desktop: FakeDesktop; window: FakeWindow; learners: FakeWindow }> {
  const places = await WindowPlaces.open(join(await makeTempFolder(), 'places.json'));
  const desktop = makeDesktop(places);
  await desktop.windows.open('instructor');
  await desktop.windows.open('learners');
  const [window, learners] = desktop.made;
  if (window === undefined || learners === undefined) throw new Error('no two windows');
  return { desktop, window, learners };
}

/** What happens after promises that wait for nothing have gone on. */
const soon = () => new Promise<void>((resolve) => setImmediate(resolve));

test.each(['crashed', 'oom', 'killed', 'abnormal-exit', 'memory-eviction'])(
  'a page that ends as %s is loaded anew, as the window it was, and the other is left alone',
  async (reason) => {
    const { desktop, window, learners } = await openWindows();
    learners.webContents.stop(reason);
    await soon();
    expect(learners.done).toEqual([`load ${LEARNERS}`, `load ${LEARNERS}`]);
    expect([window.done, desktop.questions]).toEqual([[`load ${APP_ADDRESS}`], []]);
  },
);

test('a page whose window was closed is not loaded again', async () => {
  const { window } = await openWindows();
  window.webContents.stop('clean-exit');
  await soon();
  expect(window.done).toEqual([`load ${APP_ADDRESS}`]);
});

test('a page that stops four times in a minute is asked for, and one that does so in an hour is not', async () => {
  const { desktop, window } = await openWindows();
  for (const minutes of [0, 20, 40, 60]) {
    desktop.clock.nowMs = minutes * 60_000;
    window.webContents.stop('crashed');
    await soon();
  }
  expect([window.done.length, desktop.questions]).toEqual([5, []]);
  for (let times = 0; times < 3; times += 1) window.webContents.stop('crashed');
  await soon();
  expect(desktop.questions.map(({ title, answers }) => [title, answers])).toEqual([
    ['The window has stopped', ['Close the window', 'Load it anew']],
  ]);
  expect([window.done.length, desktop.windows.contents.length]).toEqual([7, 1]);
});

test('who wants it loaded after all has it, and three more tries', async () => {
  const { desktop, window } = await openWindows();
  desktop.answer.next = 1;
  for (let times = 0; times < 7; times += 1) {
    window.webContents.stop('crashed');
    await soon();
  }
  expect([window.done.length, desktop.questions.length]).toEqual([8, 1]);
});

test('a page that hangs is waited for unless somebody says otherwise', async () => {
  const { desktop, window } = await openWindows();
  window.webContents.emit('unresponsive');
  await soon();
  expect([desktop.questions[0]?.answers, window.done.length]).toEqual([['Wait', 'Load it anew'], 1]);
  desktop.answer.next = 1;
  window.webContents.emit('unresponsive');
  await soon();
  expect(window.done).toEqual([`load ${APP_ADDRESS}`, `load ${APP_ADDRESS}`]);
});

test('a page that answers again takes the question back', async () => {
  const { desktop, window } = await openWindows();
  desktop.answer.next = 1;
  window.webContents.emit('unresponsive');
  window.webContents.emit('unresponsive');
  window.webContents.emit('responsive');
  await soon();
  expect([desktop.questions.length, desktop.questions[0]?.signal?.aborted]).toEqual([1, true]);
  expect(window.done).toEqual([`load ${APP_ADDRESS}`]);
});

test('a page that comes back after a crash finds the drill, with every line that was acknowledged', async () => {
  const { desktop, window } = await openWindows();
  const folder = await makeTempFolder();
  const host = new JournalHost({
    disk: nodeDisk,
    folder,
    newId: makeIds(),
    now: () => new Date(OPENED_AT),
  });
  onTestFinished(() => host.leave());
  const ipc = new FakeIpc();
  serveFakeDesktop({ host, ipc, folder, windows: desktop.windows });
  const ends: (() => void)[] = [];
  const before = makeBridge(makeIpcCarrier(ipc.rendererAt(APP_ADDRESS, null, ends)));
  const opened = await before.openDrill(setupOf());
  if (!opened.ok) throw new Error(opened.message);
  const { drillId } = opened.value;
  await before.attendDrill({ drillId, windowId: WINDOW_ID, role: 'instructor', hasFocus: true, zero: null });
  await before.appendLines({ drillId, windowId: WINDOW_ID, sequence: 1, lines: edges(10) });

  for (const end of ends.splice(0)) end();
  window.webContents.stop('crashed');
  await soon();
  expect(window.done.at(-1)).toBe(`load ${APP_ADDRESS}`);

  const after = makeBridge(makeIpcCarrier(ipc.rendererAt(APP_ADDRESS)));
  const found = await after.findCurrentDrill();
  if (!found.ok || found.value === null) throw new Error('there is no drill');
  expect(found.value.lines.map(({ line }) => line)).toEqual(edges(10));
  const attendance = { drillId, role: 'instructor', hasFocus: true, zero: null } as const;
  const attended = await after.attendDrill({ ...attendance, windowId: OTHER_WINDOW_ID });
  expect(attended.ok && attended.value.windows.map(({ windowId }) => windowId)).toEqual([OTHER_WINDOW_ID]);
  const batch = { drillId, windowId: OTHER_WINDOW_ID, sequence: 1, lines: edges(2, 11) };
  expect(await after.appendLines(batch)).toEqual({ ok: true, value: { throughLine: 13 } });
});

test('a page that crashes while it is first loaded is loaded anew, and that is no reason not to start', async () => {
  const desktop = makeDesktop(await WindowPlaces.open(join(await makeTempFolder(), 'places.json')));
  vi.spyOn(FakeWindow.prototype, 'loadURL').mockImplementationOnce(async function (
    this: FakeWindow,
    address,
  ) {
    this.done.push(`load ${address}`);
    this.webContents.stop('crashed');
    throw new Error('ERR_FAILED');
  });
  onTestFinished(() => void vi.restoreAllMocks());
  await desktop.windows.open('instructor');
  await soon();
  expect(desktop.made.map(({ done }) => done)).toEqual([[`load ${APP_ADDRESS}`, `load ${APP_ADDRESS}`]]);
});
