import { readdir, readFile } from 'node:fs/promises';
import { basename, extname, join } from 'node:path';
import { gzipSync } from 'node:zlib';

/** A built file, or all of a kind together; sizes in bytes. `gzipped` null: not a thing that compresses. */
export type BuiltSize = { name: string; bytes: number; gzipped: number | null };

const WINDOW = 'dist/renderer';
const PROGRAMS = ['dist/app/main.js', 'dist/electron/preload.cjs'];
const PACKED = 'dist/installers';
const TEXTS = ['.html', '.js', '.css', '.svg'];

/** What the last build weighs: every text of the window, its sounds together, the packed app's programs, and its archive if one was packed. */
export async function builtSizes(): Promise<BuiltSize[]> {
  const inWindow = await filesIn(WINDOW);
  const texts = inWindow.filter((path) => TEXTS.includes(extname(path)));
  const others = inWindow.filter((path) => !TEXTS.includes(extname(path)));
  const archives = (await filesIn(PACKED)).filter((path) => basename(path) === 'app.asar');
  const sounds = await Promise.all(others.map((path) => sizeOf(path)));
  return [
    ...(await Promise.all([...texts, ...PROGRAMS].map((path) => sizeOf(path)))),
    {
      name: `${WINDOW}: ${sounds.length} sounds`,
      bytes: sounds.reduce((sum, { bytes }) => sum + bytes, 0),
      gzipped: null,
    },
    ...(await Promise.all(archives.map((path) => sizeOf(path)))),
  ];
}

async function sizeOf(path: string): Promise<BuiltSize> {
  const content = await readFile(path);
  const isText = TEXTS.includes(extname(path)) || PROGRAMS.includes(path);
  return { name: path, bytes: content.length, gzipped: isText ? gzipSync(content).length : null };
}

async function filesIn(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { withFileTypes: true, recursive: true }).catch(() => []);
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();
}
