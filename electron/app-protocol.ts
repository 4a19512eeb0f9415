import { readFile } from 'node:fs/promises';
import { join } from 'node:path';

/** The window's own scheme: no file address, and an origin that no other page has. */
export const APP_SCHEME = 'antiphon-app';
export const APP_HOST = 'station';
export const APP_ADDRESS = `${APP_SCHEME}://${APP_HOST}/`;

/** What the page may load: itself, from where it came, and nothing else. Starts from none. */
const CONTENT_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data:",
  "font-src 'self'",
  "media-src 'self'",
  "connect-src 'self'",
  "worker-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

/** Sent with every answer. The two cross-origin lines isolate the page, which gives its clock a step of 0.005 ms. */
export const PAGE_HEADERS: Readonly<Record<string, string>> = {
  'content-security-policy': CONTENT_POLICY,
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-embedder-policy': 'require-corp',
  'cross-origin-resource-policy': 'same-origin',
  'permissions-policy':
    'camera=(), microphone=(), geolocation=(), payment=(), usb=(), serial=(), hid=(), midi=(), display-capture=()',
  'referrer-policy': 'no-referrer',
  'x-content-type-options': 'nosniff',
  'cache-control': 'no-store',
};

const CONTENT_TYPES: Readonly<Record<string, string>> = {
  html: 'text/html; charset=utf-8',
  js: 'text/javascript; charset=utf-8',
  css: 'text/css; charset=utf-8',
  json: 'application/json; charset=utf-8',
  svg: 'image/svg+xml; charset=utf-8',
  png: 'image/png',
  ico: 'image/x-icon',
  woff2: 'font/woff2',
  wav: 'audio/wav',
  ogg: 'audio/ogg',
  mp3: 'audio/mpeg',
  webm: 'audio/webm',
};

export type PageFile = { segments: readonly string[]; contentType: string };
export type PageAnswer = {
  status: number;
  headers: Readonly<Record<string, string>>;
  body: Uint8Array | string;
};

/**
 * The file that an address's path stands for, or null. Only plain names are taken (letters, digits, `-`, `_`
 * and dots inside), so no path leaves the page's folder whatever it is written as.
 */
export function resolvePage(pathname: string): PageFile | null {
  const segments = pathname === '/' ? ['index.html'] : pathname.split('/').slice(1);
  if (!segments.every((segment) => /^[A-Za-z0-9_-]+(\.[A-Za-z0-9_-]+)*$/.test(segment))) return null;
  const ending = segments.at(-1)?.split('.').slice(1).at(-1) ?? '';
  const contentType = Object.hasOwn(CONTENT_TYPES, ending) ? CONTENT_TYPES[ending] : undefined;
  return contentType === undefined ? null : { segments, contentType };
}

/** One file of the built page, with its headers; a page that says so when it is not there. Never rejects. */
export async function answerPage(pageFolder: string, pathname: string): Promise<PageAnswer> {
  const file = resolvePage(pathname);
  if (file === null) return plainPage('There is no such page.');
  try {
    const body = await readFile(join(pageFolder, ...file.segments));
    return { status: 200, headers: { ...PAGE_HEADERS, 'content-type': file.contentType }, body };
  } catch {
    const isWindow = file.segments[0] === 'index.html';
    return plainPage(
      isWindow
        ? 'The window is not built yet: run “npm run build” and start again.'
        : 'There is no such page.',
    );
  }
}

function plainPage(words: string): PageAnswer {
  const body = `<!doctype html><html lang="en"><meta charset="utf-8"><title>Antiphon</title><p>${words}</p></html>\n`;
  return { status: 404, headers: { ...PAGE_HEADERS, 'content-type': 'text/html; charset=utf-8' }, body };
}
