import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { runInNewContext } from 'node:vm';
import { build } from 'vite';
import { expect, test } from 'vitest';
import { APP_ADDRESS } from '../../electron/app-protocol.ts';
import { makeBridge } from '../../electron/contract.ts';
import { makeIpcCarrier } from '../../electron/ipc-carrier.ts';
import { FakeIpc } from '../support/fake-ipc.ts';
import { makeTempFolder } from '../support/folder-for-test.ts';

test('the preload script is one CommonJS file that needs Electron alone and exposes the bridge’s functions', async () => {
  const outDir = await makeTempFolder();
  const root = join(import.meta.dirname, '../..');
  await build({
    root,
    configFile: join(root, 'vite.preload.config.ts'),
    logLevel: 'error',
    build: { outDir },
  });
  expect(await readdir(outDir)).toEqual(['preload.cjs']);
  const exposed: Record<string, Record<string, unknown>> = {};
  const electron = {
    contextBridge: {
      exposeInMainWorld: (name: string, value: Record<string, unknown>) =>
        Object.assign(exposed, { [name]: value }),
    },
    ipcRenderer: new FakeIpc().rendererAt(APP_ADDRESS),
  };
  const needed: string[] = [];
  const need = (name: string) => {
    needed.push(name);
    return electron;
  };
  runInNewContext(await readFile(join(outDir, 'preload.cjs'), 'utf8'), {
    require: need,
    exports: {},
    module: { exports: {} },
  });
  const bridge = makeBridge(makeIpcCarrier(electron.ipcRenderer));
  expect(needed).toEqual(['electron']);
  expect(Object.keys(exposed)).toEqual(['antiphon']);
  expect(Object.keys(exposed.antiphon ?? {})).toEqual(Object.keys(bridge));
});

test('a host that does not answer is a failure in the window, not an exception', async () => {
  const carrier = makeIpcCarrier(new FakeIpc().rendererAt(APP_ADDRESS));
  expect(await carrier.request('drill:list', null)).toEqual({
    ok: false,
    code: 'internal',
    message: 'the station does not answer',
  });
});
