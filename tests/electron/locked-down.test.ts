import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { lockContents, lockSession, SWITCH_PERMISSIONS } from '../../electron/locked-down.ts';

test('a page goes nowhere, opens nothing and holds no guest', () => {
  const prevented: string[] = [];
  let open = (): unknown => 'nothing was said';
  lockContents({
    on: (event, listener) => listener({ preventDefault: () => prevented.push(event) }),
    setWindowOpenHandler: (handler) => {
      open = handler;
    },
  });
  expect(prevented).toEqual(['will-navigate', 'will-frame-navigate', 'will-redirect', 'will-attach-webview']);
  expect(open()).toEqual({ action: 'deny' });
});

test('every permission but the switches’ own is refused, and so is the network', () => {
  const answers: [string, boolean][] = [];
  const asked = [
    'media',
    'geolocation',
    'notifications',
    'midi',
    'hid',
    'serial',
    'usb',
    'openExternal',
    'unknown',
  ];
  let network: unknown;
  lockSession({
    setPermissionRequestHandler: (handler) => {
      for (const permission of asked)
        handler({}, permission, (is) => answers.push([`asked ${permission}`, is]));
    },
    setPermissionCheckHandler: (handler) => {
      for (const permission of asked) answers.push([`checked ${permission}`, handler({}, permission)]);
    },
    setDevicePermissionHandler: (handler) => answers.push(['device', handler()]),
    setDisplayMediaRequestHandler: (handler) => answers.push(['display', handler !== null]),
    webRequest: {
      onBeforeRequest: ({ urls }, listener) =>
        listener({}, (decision) => {
          network = { urls, ...decision };
        }),
    },
  });
  const granted = answers.filter(([, is]) => is).map(([what]) => what);
  expect([answers.length, granted]).toEqual([2 * asked.length + 2, []]);
  expect(network).toEqual({ urls: ['http://*/*', 'https://*/*', 'ws://*/*', 'wss://*/*'], cancel: true });
});

test('a switch source that needs a permission is in the list, and nothing is in it that none needs', async () => {
  const folder = join(import.meta.dirname, '../../renderer');
  const names = (await readdir(folder, { recursive: true })).filter((name) => /\.tsx?$/.test(name));
  const source = (await Promise.all(names.map((name) => readFile(join(folder, name), 'utf8')))).join('\n');
  expect(source).toContain('navigator.getGamepads');
  const uses = {
    midi: /requestMIDIAccess/,
    hid: /navigator\.hid/,
    serial: /navigator\.serial/,
    usb: /navigator\.usb/,
  };
  const needed = Object.entries(uses).filter(([, use]) => use.test(source));
  expect(needed.map(([permission]) => permission)).toEqual(SWITCH_PERMISSIONS);
});
