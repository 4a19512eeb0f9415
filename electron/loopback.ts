import { randomBytes } from 'node:crypto';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { answerPage, PAGE_HEADERS } from './app-protocol.ts';
import type { Failure, LinesWritten } from './contract.ts';
import { type Handle, isChannel, notAllowed } from './handlers.ts';
import { LineStreams } from './line-streams.ts';
import { LoopbackCrowd } from './loopback-crowd.ts';
import { type LoopbackSender, makeLoopbackGuard, SECRET_HEADER, WINDOW_HEADER } from './loopback-guard.ts';
import { type WindowNews, WindowSeats } from './window-seats.ts';

/** The longest body of a request in bytes (tool default: a full batch of edges is less than half of it). */
export const MAX_BODY_BYTES = 1024 * 1024;
const SECRET_BYTES = 32;
/** How long an idle connection stays open: longer than browsers keep theirs between two requests (our choice). */
const IDLE_MS = 65_000;
/** In bytes: Node's own default, written down. Cookies of other pages on this address come with ours. */
const MAX_HEADER_BYTES = 16 * 1024;
/** How long the headers of a request, and all of it, may take to come: on one computer they come at once (our choice). */
const PATIENCE = { headersMs: 5000, requestMs: 15_000, lookEveryMs: 1000 };
/** Connections that may wait to be taken: beyond, the system lets ours wait a second with the others (our choice). */
const BACKLOG = 2048;
const REQUEST_PATH = '/request/';
const LINES_PATH = '/lines';

export type LoopbackParts = {
  pageFolder: string;
  /** Makes the handlers, once it is known who may ask. */
  handlersFor: (isAllowed: (sender: LoopbackSender) => boolean) => Handle<LoopbackSender>;
  onLinesWritten: (listener: (written: LinesWritten) => void) => () => void;
  windows: WindowNews;
  /** Hears how many windows listen, whenever that changes. */
  onWindows?: (count: number) => void;
  /** How long a slow sender is waited for; only tests have less. */
  patience?: typeof PATIENCE;
};
export type Loopback = {
  /** `http://127.0.0.1:<port>` */
  origin: string;
  secret: string;
  /** The page's address with the secret in its fragment, which browsers send to nobody. */
  address: string;
  close(): Promise<void>;
};

/** Serves the built page and the handlers on a random port that only this computer can reach. */
export async function startLoopback(parts: LoopbackParts): Promise<Loopback> {
  const secret = randomBytes(SECRET_BYTES).toString('base64url');
  const patience = parts.patience ?? PATIENCE;
  const server = createServer({
    keepAliveTimeout: IDLE_MS,
    maxHeaderSize: MAX_HEADER_BYTES,
    insecureHTTPParser: false,
    requireHostHeader: true,
    headersTimeout: patience.headersMs,
    requestTimeout: patience.requestMs,
    connectionsCheckingInterval: patience.lookEveryMs,
  });
  const crowd = new LoopbackCrowd();
  server.on('connection', (socket) => crowd.take(socket));
  const host = await listen(server);
  const isAllowed = makeLoopbackGuard({ host, secret });
  const isOurs = (request: IncomingMessage): boolean => {
    const isIt = isAllowed(senderOf(request));
    if (isIt) crowd.trust(request.socket);
    return isIt;
  };
  const handle = parts.handlersFor(isAllowed);
  const streams = new LineStreams(parts.onWindows ?? (() => undefined));
  const stops = [
    parts.onLinesWritten((written) => streams.tell(written)),
    parts.windows.onWindowsChanged((windows) => streams.tell(windows)),
  ];
  const seats = new WindowSeats(parts.windows);
  server.on('request', (request, response) => {
    void answer(request, response, { host, isOurs, handle, streams, seats, pageFolder: parts.pageFolder });
  });
  const origin = `http://${host}`;
  return {
    origin,
    secret,
    address: `${origin}/#${secret}`,
    close: async () => {
      for (const stop of stops) stop();
      streams.close();
      const closed = new Promise<void>((resolve) => server.close(() => resolve()));
      server.closeAllConnections();
      await closed;
    },
  };
}

type Serving = {
  host: string;
  isOurs: (request: IncomingMessage) => boolean;
  handle: Handle<LoopbackSender>;
  streams: LineStreams;
  seats: WindowSeats;
  pageFolder: string;
};

async function answer(request: IncomingMessage, response: ServerResponse, serving: Serving): Promise<void> {
  const pathname = pathOf(request);
  const isSpoken = request.httpVersion === '1.1' && headerOf(request, 'host') === serving.host;
  if (!isSpoken || pathname === null) return refuse(response, 403, notAllowed());
  if (request.method === 'POST' && pathname.startsWith(REQUEST_PATH)) {
    if (!serving.isOurs(request)) return refuse(response, 403, notAllowed());
    return await answerRequest(request, response, pathname.slice(REQUEST_PATH.length), serving.handle);
  }
  if (request.method !== 'GET') return refuse(response, 405, badRequest('this is not asked so'));
  if (pathname === LINES_PATH) {
    if (!serving.isOurs(request)) return refuse(response, 403, notAllowed());
    response.writeHead(200, { ...PAGE_HEADERS, 'content-type': 'application/x-ndjson; charset=utf-8' });
    const { first, onGone } = serving.seats.take(headerOf(request, WINDOW_HEADER));
    return serving.streams.add(response, first, onGone);
  }
  const page = await answerPage(serving.pageFolder, pathname);
  response.writeHead(page.status, page.headers).end(page.body);
}

async function answerRequest(
  request: IncomingMessage,
  response: ServerResponse,
  channel: string,
  handle: Handle<LoopbackSender>,
): Promise<void> {
  if (!isChannel(channel)) return refuse(response, 404, badRequest('there is no such request'));
  if (headerOf(request, 'content-type') !== 'application/json') {
    return refuse(response, 415, badRequest('a request is sent as JSON'));
  }
  const body = await readBody(request);
  if (body === null)
    return refuse(response, 413, badRequest(`a request is no longer than ${MAX_BODY_BYTES} bytes`));
  let argument: unknown;
  try {
    argument = JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(body));
  } catch {
    return refuse(response, 400, badRequest('the request is not JSON'));
  }
  sendJson(response, 200, await handle(channel, argument, senderOf(request)));
}

/** The body, or null as soon as it is too long; what comes after that is not kept. */
async function readBody(request: IncomingMessage): Promise<Uint8Array | null> {
  if (Number(request.headers['content-length'] ?? 0) > MAX_BODY_BYTES) return null;
  const chunks: Uint8Array[] = [];
  let bytes = 0;
  try {
    for await (const chunk of request) {
      bytes += (chunk as Uint8Array).length;
      if (bytes > MAX_BODY_BYTES) return null;
      chunks.push(chunk as Uint8Array);
    }
  } catch {
    // The window went away in the middle of its request: there is nobody to answer, and what came is no JSON.
  }
  return Buffer.concat(chunks);
}

function senderOf(request: IncomingMessage): LoopbackSender {
  return {
    method: request.method ?? '',
    host: headerOf(request, 'host'),
    origin: headerOf(request, 'origin'),
    fetchSite: headerOf(request, 'sec-fetch-site'),
    secret: headerOf(request, SECRET_HEADER),
  };
}

/** A header that is sent twice is nobody's: two readers might each believe another of the two. */
function headerOf(request: IncomingMessage, name: string): string | undefined {
  return request.headersDistinct[name]?.join(', ');
}

function pathOf(request: IncomingMessage): string | null {
  const path = request.url ?? '';
  return path.startsWith('/') ? (path.split(/[?#]/, 1)[0] ?? null) : null;
}

/** Says no, and ends the connection, so that a body on its way is not read. */
function refuse(response: ServerResponse, status: number, failure: Failure): void {
  response.setHeader('connection', 'close');
  sendJson(response, status, failure);
}

function sendJson(response: ServerResponse, status: number, value: unknown): void {
  response.writeHead(status, { ...PAGE_HEADERS, 'content-type': 'application/json; charset=utf-8' });
  response.end(JSON.stringify(value));
}

function badRequest(message: string): Failure {
  return { ok: false, code: 'bad-argument', message };
}

function listen(server: Server): Promise<string> {
  return new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen({ host: '127.0.0.1', port: 0, exclusive: true, backlog: BACKLOG }, () => {
      server.off('error', reject);
      const address = server.address();
      if (address === null || typeof address === 'string') reject(new Error('no port was given'));
      else resolve(`127.0.0.1:${address.port}`);
    });
  });
}
