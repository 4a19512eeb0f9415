import { request } from 'node:http';

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
