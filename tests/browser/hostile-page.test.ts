import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { expect, onTestFinished, test } from 'vitest';
import { launchChromium } from '../support/chromium.ts';
import { portOf } from '../support/raw-request.ts';
import { serveStation } from '../support/served-station.ts';

/** A page of another origin in a real browser, which has found the station's port out, tries all that pages can. */
test('a page of another site gets nothing of the station and does nothing to it', async () => {
  const station = await serveStation();
  onTestFinished(() => station.close());
  const evil = await servePage('<!doctype html><title>evil</title>');
  const browser = await launchChromium();
  onTestFinished(() => browser.close());
  const page = await browser.newPage();
  await page.goto(evil);
  const got = await page.evaluate(async (target) => {
    const ask = (path: string, init: RequestInit) =>
      fetch(`${target}${path}`, init).then(
        async (answer) => `${answer.type} ${answer.status} ${(await answer.text()).length}`,
        () => 'blocked',
      );
    const load = (tag: 'script' | 'img', path: string) =>
      new Promise<string>((resolve) => {
        const element = document.createElement(tag);
        element.onload = () => resolve('loaded');
        element.onerror = () => resolve('blocked');
        element.src = `${target}${path}`;
        document.body.append(element);
      });
    const socket = new Promise<string>((resolve) => {
      const web = new WebSocket(`${target.replace('http', 'ws')}/lines`);
      web.onopen = () => resolve('open');
      web.onerror = () => resolve('blocked');
    });
    return {
      page: await ask('/', {}),
      'page without asking': await ask('/', { mode: 'no-cors' }),
      lines: await ask('/lines', {}),
      'with a guessed secret': await ask('/request/drill:list', {
        method: 'POST',
        headers: { 'content-type': 'application/json', 'x-antiphon-secret': 'A'.repeat(43) },
        body: 'null',
      }),
      'as a form does': await ask('/request/drill:list', {
        method: 'POST',
        mode: 'no-cors',
        headers: { 'content-type': 'text/plain' },
        body: 'null',
      }),
      script: await load('script', '/index.html'),
      image: await load('img', '/icon.svg'),
      socket: await socket,
    };
  }, station.loopback.origin);
  expect(got).toEqual({
    page: 'blocked',
    'page without asking': 'blocked',
    lines: 'blocked',
    'with a guessed secret': 'blocked',
    'as a form does': 'blocked',
    script: 'blocked',
    image: 'blocked',
    socket: 'blocked',
  });

  // In a frame there is the browser's own page of refusal, and a window of the station's page knows no opener.
  await page.setContent(`<iframe src="${station.loopback.origin}/"></iframe>`);
  const frame = page.frames().find((one) => one.parentFrame() !== null);
  await frame?.waitForLoadState();
  expect(await frame?.locator('#station').count()).toBe(0);
  const opening = page.waitForEvent('popup');
  await page.evaluate((target) => void window.open(target), station.loopback.origin);
  const opened = await opening;
  await opened.getByText('This window has lost its station').waitFor();
  expect(await opened.evaluate(() => window.opener)).toBe(null);
  expect([await station.host.list(), station.mistakes]).toEqual([{ ok: true, value: [] }, []]);
});

test('a name that was turned to this computer shows nothing of the station', async () => {
  const station = await serveStation();
  onTestFinished(() => station.close());
  const browser = await launchChromium({
    words: ['--host-resolver-rules=MAP rebound.example.org 127.0.0.1'],
  });
  onTestFinished(() => browser.close());
  const page = await browser.newPage();
  const address = `http://rebound.example.org:${portOf(station.loopback.origin)}/`;
  for (const path of ['', 'index.html', 'lines', `#${station.loopback.secret}`]) {
    const answer = await page.goto(`${address}${path}`);
    // The address with the secret behind it is the same page, and is not asked for again.
    if (answer !== null) expect([answer.status(), await page.locator('#station').count()]).toEqual([403, 0]);
  }
  const asked = await page.evaluate(async (secret) => {
    const headers = { 'content-type': 'application/json', 'x-antiphon-secret': secret };
    return (await fetch('/request/drill:list', { method: 'POST', headers, body: 'null' })).status;
  }, station.loopback.secret);
  expect(asked).toBe(403);
});

/** A server of another port, and so of another origin, with one page. */
async function servePage(text: string): Promise<string> {
  const server = createServer((_request, response) => {
    response.writeHead(200, { 'content-type': 'text/html' }).end(text);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', () => resolve()));
  onTestFinished(() => {
    server.closeAllConnections();
    server.close();
  });
  return `http://127.0.0.1:${(server.address() as AddressInfo).port}/`;
}
