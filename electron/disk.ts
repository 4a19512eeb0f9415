import { createReadStream } from 'node:fs';
import { type FileHandle, mkdir, open, readdir, rename, rm, stat } from 'node:fs/promises';
import { dirname } from 'node:path';

/** One file open for writing. Every function rejects with the system's own error. */
export type DiskFile = {
  /** Writes at a position in bytes; the number of bytes taken, which may be fewer than were given. */
  write(bytes: Uint8Array, position: number): Promise<number>;
  /** Returns once what was written is on the disk, with the length needed to read it back. */
  sync(): Promise<void>;
  /** The same, with everything else that is known of the file. */
  syncAll(): Promise<void>;
  truncate(bytes: number): Promise<void>;
  close(): Promise<void>;
};

/** The part of a file system that journals need, small enough to be imitated in a test. */
export type Disk = {
  /** Makes a folder that only this user can enter, and those above it. */
  makeFolder(folder: string): Promise<void>;
  /** Returns once the folder's list of names is on the disk. */
  syncFolder(folder: string): Promise<void>;
  list(folder: string): Promise<readonly string[]>;
  /** Makes a file that only this user can read; an error when the name is taken. */
  create(path: string): Promise<DiskFile>;
  /** Opens a file that is there, to be mended or added to. */
  mend(path: string): Promise<DiskFile>;
  remove(path: string): Promise<void>;
  /** Puts a file in the place of another, in one step: whoever looks finds the one or the other, whole. */
  rename(from: string, to: string): Promise<void>;
  factsOf(path: string): Promise<FileFacts>;
  /** The file's bytes in pieces; with `end`, only those before it. */
  read(path: string, end?: number): AsyncIterable<Uint8Array>;
};
/** `stamp` changes whenever the file does. */
export type FileFacts = { kind: 'file' | 'folder' | 'other'; bytes: number; stamp: string };

const READ_BYTES = 65_536;

/** The real disk. */
export const nodeDisk: Disk = {
  async makeFolder(folder) {
    const made = await mkdir(folder, { recursive: true, mode: 0o700 });
    if (made !== undefined) await syncFolder(dirname(made));
  },
  syncFolder,
  list: (folder) => readdir(folder),
  create: async (path) => fileOf(await open(path, 'wx', 0o600)),
  mend: async (path) => fileOf(await open(path, 'r+')),
  remove: (path) => rm(path),
  rename: (from, to) => rename(from, to),
  async factsOf(path) {
    const facts = await stat(path, { bigint: true });
    return {
      kind: facts.isFile() ? 'file' : facts.isDirectory() ? 'folder' : 'other',
      bytes: Number(facts.size),
      stamp: `${facts.ino} ${facts.size} ${facts.mtimeNs}`,
    };
  },
  async *read(path, end) {
    if (end === 0) return;
    const last = end === undefined ? {} : { end: end - 1 };
    const stream = createReadStream(path, { highWaterMark: READ_BYTES, ...last });
    for await (const chunk of stream) yield chunk as Uint8Array;
  },
};

function fileOf(handle: FileHandle): DiskFile {
  return {
    write: async (bytes, position) => (await handle.write(bytes, 0, bytes.length, position)).bytesWritten,
    sync: () => handle.datasync(),
    syncAll: () => handle.sync(),
    truncate: (bytes) => handle.truncate(bytes),
    close: () => handle.close(),
  };
}

async function syncFolder(folder: string): Promise<void> {
  // Windows opens no folder as a file; NTFS logs its names itself.
  if (process.platform === 'win32') return;
  const handle = await open(folder, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
