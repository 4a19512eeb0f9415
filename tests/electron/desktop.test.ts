import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { MenuItemConstructorOptions } from 'electron';
import { expect, onTestFinished, test } from 'vitest';
import { APP_ADDRESS } from '../../electron/app-protocol.ts';
import { CHANNELS, makeBridge } from '../../electron/contract.ts';
import { answerScheme } from '../../electron/desktop.ts';
import { nodeDisk } from '../../electron/disk.ts';
import { makeIpcCarrier } from '../../electron/ipc-carrier.ts';
import { JournalHost } from '../../electron/journal-host.ts';
import { WindowPlaces } from '../../electron/window-places.ts';
import { makeIds, OPENED_AT, setupOf, WINDOW_ID } from '../support/drills.ts';
import { makeDesktop } from '../support/fake-desktop.ts';
import { FakeIpc } from '../support/fake-ipc.ts';
import { makeTempFolder } from '../support/folder-for-test.ts';
import { serveFakeDesktop } from '../support/served-desktop.ts';

async function startDesktop(
  options: { platform?: NodeJS.Platform; isPackaged?: boolean; answer?: number; saveIn?: string } = {},
) {
  const folder = await makeTempFolder();
  const host = new JournalHost({
    disk: nodeDisk,
    folder: join(folder, 'journals'),
    newId: makeIds(),
    now: () => new Date(OPENED_AT),
  });
  onTestFinished(() => host.leave());
  const ipc = new FakeIpc();
  const desktop = makeDesktop(await WindowPlaces.open(join(folder, 'places.json')), { ipc });
  const asked = serveFakeDesktop({ ...options, host, ipc, folder, windows: desktop.windows });
  const bridge = makeBridge(makeIpcCarrier(ipc.rendererAt(APP_ADDRESS)));
  return { ...desktop, ipc, asked, bridge, folder };
}

/** Every item of a menu and of the menus in it. */
function itemsOf(menu: readonly MenuItemConstructorOptions[]): MenuItemConstructorOptions[] {
  return menu.flatMap((item) => [item, ...(Array.isArray(item.submenu) ? itemsOf(item.submenu) : [])]);
}

function click(menu: readonly MenuItemConstructorOptions[], label: string): void {
  const item = itemsOf(menu).find((one) => one.label === label);
  // Our items look at none of the three.
  (item?.click as (() => void) | undefined)?.();
}

const soon = () => new Promise<void>((resolve) => setImmediate(resolve));

test('there are two windows and no third, whoever asks', async () => {
  const { bridge, made, asked, windows } = await startDesktop();
  await windows.open('instructor');
  for (const role of ['learners', 'learners', 'instructor'] as const) await bridge.openWindow(role);
  click(asked.menu, 'Open the learners’ window');
  await soon();
  expect(made.map(({ done }) => done)).toEqual([
    ['load antiphon-app://station/', 'show', 'focus'],
    ['load antiphon-app://station/?window=learners', 'show', 'focus', 'show', 'focus'],
  ]);
  expect(made.map(({ options }) => options.autoHideMenuBar)).toEqual([false, true]);
  made[1]?.close();
  await bridge.openWindow('learners');
  expect([made.length, windows.contents.length]).toEqual([3, 2]);
});

test('starting the app a second time brings the windows to the front, the instructor’s last', async () => {
  const { made, windows } = await startDesktop();
  await windows.open('instructor');
  await windows.open('learners');
  const [instructors, learners] = made;
  if (instructors !== undefined) instructors.isMinimizedNow = true;
  windows.bringToFront();
  expect([instructors?.done.slice(1), learners?.done.slice(1)]).toEqual([
    ['restore', 'show', 'focus'],
    ['show', 'focus'],
  ]);
});

test.each(CHANNELS)('%s answers nobody but the page of our own windows', async (channel) => {
  const { ipc } = await startDesktop();
  const strangers = [
    ipc.rendererAt('https://example.org/'),
    ipc.rendererAt('antiphon-app://station.example.org/'),
    ipc.rendererAt('https://antiphon-app//station/'),
    ipc.rendererAt('file:///antiphon-app://station/'),
    ipc.rendererAt('about:blank'),
    ipc.rendererAt(''),
    ipc.rendererAt(APP_ADDRESS, {}),
  ];
  for (const stranger of strangers)
    expect(await stranger.invoke(channel, null)).toMatchObject({ ok: false, code: 'not-allowed' });
});

test('the display stays on while a drill is open in a window, and no longer', async () => {
  const { bridge, asked, ipc } = await startDesktop();
  const opened = await bridge.openDrill(setupOf());
  if (!opened.ok) throw new Error(opened.message);
  const { drillId } = opened.value;
  const here = { drillId, windowId: WINDOW_ID, role: 'instructor', hasFocus: true, zero: null } as const;
  expect(asked.awake).toEqual([]);
  const ends: (() => void)[] = [];
  const window = makeBridge(makeIpcCarrier(ipc.rendererAt(APP_ADDRESS, null, ends)));
  await window.attendDrill(here);
  await window.attendDrill({ ...here, hasFocus: false });
  expect(asked.awake).toEqual(['prevent-display-sleep']);
  // The window is lost: nobody looks. Another comes.
  for (const end of ends) end();
  expect(asked.awake).toEqual([]);
  await bridge.attendDrill({ ...here, windowId: 'bbbbbbbb-0000-4000-8000-000000000002' });
  expect(asked.awake).toEqual(['prevent-display-sleep']);
  const lines = [{ kind: 'close', at: 5 } as const];
  await bridge.appendLines({ drillId, windowId: 'bbbbbbbb-0000-4000-8000-000000000002', sequence: 1, lines });
  expect(asked.awake).toEqual([]);
});

test.each<[NodeJS.Platform, string[]]>([
  ['darwin', ['Antiphon', 'File', 'Edit', 'View', 'Window', 'Help']],
  ['win32', ['&File', '&Edit', '&View', '&Window', '&Help']],
  ['linux', ['&File', '&Edit', '&View', '&Window', '&Help']],
])('on %s the menus are %j', async (platform, labels) => {
  const { asked } = await startDesktop({ platform });
  expect(asked.menu.map(({ label }) => label)).toEqual(labels);
  const items = itemsOf(asked.menu);
  const roles = items.flatMap(({ role }) => (role === undefined ? [] : [role]));
  // Names are typed and pasted in Set-up, and text scales.
  expect(roles).toEqual(
    expect.arrayContaining(['cut', 'copy', 'paste', 'selectAll', 'zoomIn', 'zoomOut', 'quit']),
  );
  // No slip of a hand reloads a drill, and no page is looked into.
  expect(roles.filter((role) => /reload|devtools/i.test(role))).toEqual([]);
  expect(items.filter(({ accelerator }) => accelerator !== undefined)).toEqual([]);
  expect(items.filter(({ label }) => label === 'About Antiphon')).toHaveLength(1);
  expect(roles.includes('hideOthers')).toBe(platform === 'darwin');
});

test('a developer’s menu reloads and has the tools', async () => {
  const { asked } = await startDesktop({ isPackaged: false });
  const roles = itemsOf(asked.menu).map(({ role }) => role);
  expect(roles).toEqual(expect.arrayContaining(['reload', 'toggleDevTools']));
});

test('the about box has the cautions first, then the version, and leads to the licences', async () => {
  const { asked } = await startDesktop({ answer: 1 });
  click(asked.menu, 'About Antiphon');
  await soon();
  expect(asked.boxes.map(({ message, buttons }) => [message, buttons])).toEqual([
    ['Antiphon', ['Close', 'Licences']],
  ]);
  expect(asked.boxes[0]?.detail?.split('\n\n')).toEqual([
    'For training on manikins only. Not a medical device; never for use on a patient. Your course’s guideline, your local protocols and your licensed instructor overrule it.',
    'For the newly born only. An infant who collapses later is usually treated by another ratio (15:2).',
    'Version 1.2.3, on Electron 45.4.1 and Chromium 156.0.1.',
    'MIT licence. It contains the work of others, under the licences that “Licences” shows.',
  ]);
  expect(asked.opened).toEqual(['/app/THIRD-PARTY-LICENCES.txt']);
});

test('a folder that the system cannot show is reported, and nothing else happens', async () => {
  const { asked, folder } = await startDesktop();
  click(asked.menu, 'Show the journals’ folder');
  await soon();
  expect(asked.opened).toEqual([join(folder, 'journals')]);
  expect(asked.mistakes.map(String)).toEqual([`Error: ${join(folder, 'journals')}: there is no such folder`]);
});

test('our own scheme answers a GET of our host with the page, and nothing else', async () => {
  const folder = await makeTempFolder();
  await mkdir(join(folder, 'page'));
  await writeFile(join(folder, 'page', 'index.html'), 'the page');
  await writeFile(join(folder, 'secret.json'), 'not to be read');
  const ask = async (url: string, method = 'GET') => {
    const answer = await answerScheme(join(folder, 'page'), { url, method });
    return [
      answer.status,
      (await answer.text()).includes('the page'),
      answer.headers.get('content-security-policy'),
    ];
  };
  const policy = expect.stringMatching(/^default-src 'none'; /);
  expect(await ask(APP_ADDRESS)).toEqual([200, true, policy]);
  expect(await ask(`${APP_ADDRESS}?window=learners`)).toEqual([200, true, policy]);
  for (const [url, method] of [
    [APP_ADDRESS, 'POST'],
    ['antiphon-app://other/'],
    ['antiphon-app://station/../secret.json'],
    ['antiphon-app://station/%2e%2e/secret.json'],
    ['antiphon-app://station/..%2fsecret.json'],
  ] as const)
    expect(await ask(url, method)).toEqual([404, false, policy]);
});

test('the pages for paper of the window that asks are saved as a PDF where it is wanted, or nowhere', async () => {
  const saveIn = await makeTempFolder();
  const { bridge } = await startDesktop({ saveIn });
  const path = join(saveIn, 'drill.pdf');
  expect(await bridge.savePaper('drill.pdf')).toEqual({ ok: true, value: { path } });
  expect(await readFile(path, 'utf8')).toBe('%PDF {"preferCSSPageSize":true,"printBackground":true}');
  expect(await readdir(saveIn)).toEqual(['drill.pdf']);
  const { bridge: other } = await startDesktop();
  expect(await other.savePaper('drill.pdf')).toEqual({ ok: true, value: { path: null } });
  const { bridge: lost } = await startDesktop({ saveIn: join(saveIn, 'not there') });
  expect(await lost.savePaper('drill.pdf')).toMatchObject({ ok: false, code: 'disk' });
});
