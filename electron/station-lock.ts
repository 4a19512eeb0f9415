import { createHash } from 'node:crypto';
import { rm } from 'node:fs/promises';
import { connect, createServer, type Server } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { codeOf } from './disk-failure.ts';

export type StationLock = { release(): Promise<void> };

/** The longest path of a local socket that every platform takes, in bytes. */
const LONGEST_SOCKET_PATH = 100;

/**
 * Takes the folder for this process, or null when another station has it. A local socket, not a file with a process's
 * number: the system lets it go however the process ends, and a number may since belong to another.
 */
export async function takeStationLock(folder: string): Promise<StationLock | null> {
  for (const path of socketPaths(folder)) {
    const taken = await takeAt(path);
    if (taken !== 'not possible here') return taken;
  }
  // Some network folders have no sockets, and no other place was to be had: go on without.
  return { release: async () => undefined };
}

async function takeAt(path: string): Promise<StationLock | null | 'not possible here'> {
  let server = await listen(path);
  if (server === 'in use') {
    if (await isAnswered(path)) return null;
    // Left behind by a station that was killed.
    await rm(path, { force: true });
    server = await listen(path);
  }
  if (server === 'in use') return null;
  if (server === 'not possible here') return server;
  const held = server;
  return { release: () => new Promise((resolve) => held.close(() => resolve())) };
}

function socketPaths(folder: string): string[] {
  const name = createHash('sha256').update(folder).digest('hex').slice(0, 24);
  if (process.platform === 'win32') return [`\\\\.\\pipe\\antiphon-${name}`];
  return [join(folder, 'station.sock'), join(tmpdir(), `antiphon-${name}.sock`)].filter(
    (path) => Buffer.byteLength(path) <= LONGEST_SOCKET_PATH,
  );
}

function listen(path: string): Promise<Server | 'in use' | 'not possible here'> {
  return new Promise((resolve) => {
    const server = createServer((socket) => socket.destroy());
    server.unref();
    server.once('error', (error) => resolve(codeOf(error) === 'EADDRINUSE' ? 'in use' : 'not possible here'));
    server.listen(path, () => resolve(server));
  });
}

function isAnswered(path: string): Promise<boolean> {
  return new Promise((resolve) => {
    const socket = connect(path);
    socket.once('connect', () => {
      socket.destroy();
      resolve(true);
    });
    socket.once('error', () => resolve(false));
  });
}
