import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { drawIcon } from './making/drawing.mjs';
import { icnsOf, icoOf, pngOf } from './making/formats.mjs';

/** Draws every icon anew beside this file: `npm run icons`. Needs Node and nothing else. */

const FOLDER = import.meta.dirname;
const SIZES = [16, 24, 32, 48, 64, 128, 256, 512, 1024];

const pngs = new Map(SIZES.map((size) => [size, pngOf(drawIcon(size), size)]));
await mkdir(join(FOLDER, 'png'), { recursive: true });
for (const [size, png] of pngs) await writeFile(join(FOLDER, 'png', `${size}x${size}.png`), png);
await writeFile(join(FOLDER, 'antiphon.ico'), icoOf(pngs));
await writeFile(join(FOLDER, 'antiphon.icns'), icnsOf(pngs));
