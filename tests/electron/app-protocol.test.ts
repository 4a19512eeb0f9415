import { mkdtemp, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { answerPage, PAGE_HEADERS, resolvePage } from '../../electron/app-protocol.ts';
import { windowOptions } from '../../electron/window.ts';
import { makeTempFolder } from '../support/folder-for-test.ts';

test.each([
  ['/', ['index.html'], 'text/html; charset=utf-8'],
  ['/index.html', ['index.html'], 'text/html; charset=utf-8'],
  ['/assets/main-B3x_9.js', ['assets', 'main-B3x_9.js'], 'text/javascript; charset=utf-8'],
  ['/sounds/one.two.wav', ['sounds', 'one.two.wav'], 'audio/wav'],
])('%s is a file of the page', (pathname, segments, contentType) => {
  expect(resolvePage(pathname)).toEqual({ segments, contentType });
});

test.each([
  '',
  'index.html',
  '/..',
  '/../index.html',
  '/assets/../../index.html',
  '/./index.html',
  '/%2e%2e/index.html',
  '/..%2findex.html',
  '/..\\index.html',
  '/%5c..%5cindex.html',
  '/C:/index.html',
  '/index.html\0.js',
  '/index.html%00',
  '//host/index.html',
  '/assets//index.html',
  '/assets/',
  '/.env.js',
  '/.git/index.html',
  '/index.html:stream.js',
  '/index',
  '/index.ts',
  '/index.constructor',
  '/con.js ',
])('%j is no file of the page', (pathname) => {
  expect(resolvePage(pathname)).toBe(null);
});

test('no path leaves the folder', () => {
  fc.assert(
    fc.property(
      fc.string({ unit: fc.constantFrom('/', '.', '\\', '%2e', '%2f', 'a', '.js', ':', '\0') }),
      (path) => {
        const file = resolvePage(`/${path}`);
        for (const segment of file?.segments ?? []) expect(segment).toMatch(/^[\w-]+(\.[\w-]+)*$/);
      },
    ),
  );
});

test('a page that is not built says so', async () => {
  const folder = await makeTempFolder();
  const answer = await answerPage(folder, '/');
  expect([answer.status, String(answer.body).includes('The window is not built yet')]).toEqual([404, true]);
  expect(answer.headers).toMatchObject(PAGE_HEADERS);
});

test('a folder with the name of a page is no page', async () => {
  const folder = await makeTempFolder();
  await mkdtemp(join(folder, 'a-'));
  await symlink(folder, join(folder, 'loop.js'));
  expect(await answerPage(folder, '/loop.js')).toMatchObject({ status: 404 });
  await writeFile(join(folder, 'a.js'), 'x');
  expect(await answerPage(folder, '/a.js')).toMatchObject({ status: 200 });
});

test('the content policy names no other place and no inline script', () => {
  const policy = PAGE_HEADERS['content-security-policy'] ?? '';
  expect(policy.startsWith("default-src 'none'; ")).toBe(true);
  expect(policy).not.toMatch(/unsafe|https?:|\*/);
});

test('the window’s page has no Node, its own world and a sandbox', () => {
  expect(windowOptions({ preloadPath: '/preload.cjs', isPackaged: true }).webPreferences).toMatchObject({
    preload: '/preload.cjs',
    devTools: false,
    contextIsolation: true,
    sandbox: true,
    nodeIntegration: false,
    nodeIntegrationInWorker: false,
    nodeIntegrationInSubFrames: false,
    webSecurity: true,
    webviewTag: false,
    backgroundThrottling: false,
  });
});
