import { request } from 'node:http';
import { connect } from 'node:net';

export type RawAnswer = { status: number; headers: Readonly<Record<string, unknown>>; body: string };

/** One HTTP request with exactly these headers and this path, as no browser would send it. */
export function askRaw(
  origin: string,
  path: string,
  headers: Readonly<Record<string, string>>,
  body: string | null = null,
): Promise<RawAnswer> {
  const { hostname, port } = new URL(origin);
  return new Promise((resolve, reject) => {
    const asked = request(
      { hostname, port, path, headers, method: body === null ? 'GET' : 'POST' },
      (answer) => {
        let text = '';
        answer.setEncoding('utf8');
        answer.on('data', (part: string) => {
          text += part;
        });
        answer.on('end', () =>
          resolve({ status: answer.statusCode ?? 0, headers: answer.headers, body: text }),
        );
        answer.on('error', reject);
      },
    );
    asked.on('error', reject);
    asked.end(body ?? undefined);
  });
}

/** Sends these bytes over a connection of its own; all that comes back until the other end has closed it. */
export function askBytes(origin: string, bytes: string | Uint8Array): Promise<string> {
  return new Promise((resolve) => {
    const socket = connect(portOf(origin), '127.0.0.1', () => socket.write(bytes));
    let text = '';
    socket.setEncoding('latin1');
    socket.on('data', (part: string) => {
      text += part;
    });
    // A connection that is cut is closed too.
    socket.on('error', () => undefined);
    socket.on('close', () => resolve(text));
  });
}

export function portOf(origin: string): number {
  return Number(new URL(origin).port);
}
