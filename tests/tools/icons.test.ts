import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { inflateSync } from 'node:zlib';
import { expect, test } from 'vitest';

const FOLDER = join(import.meta.dirname, '../../assets/icons');
const SIZES = [16, 24, 32, 48, 64, 128, 256, 512, 1024];

/** Width and height as a PNG says them, and a pixel of it, as red, green, blue and alpha; each row begins with a byte of its own. */
function readPng(png: Buffer): { size: [number, number]; pixel: (x: number, y: number) => number[] } {
  expect(png.subarray(1, 4).toString('latin1')).toBe('PNG');
  const [width, height] = [png.readUInt32BE(16), png.readUInt32BE(20)];
  const at = png.indexOf('IDAT');
  const rows = inflateSync(png.subarray(at + 4, at + 4 + png.readUInt32BE(at - 4)));
  const pixel = (x: number, y: number) => {
    const from = y * (width * 4 + 1) + 1 + x * 4;
    return [...rows.subarray(from, from + 4)];
  };
  return { size: [width, height], pixel };
}

test('there is an icon of each size, drawn as the page’s own', async () => {
  expect((await readdir(join(FOLDER, 'png'))).length).toBe(SIZES.length);
  const svg = await readFile(join(FOLDER, '../../renderer/public/icon.svg'), 'utf8');
  expect(svg).toContain('<rect x="4" y="8" width="6" height="6" fill="#1f4e79"/>');
  for (const size of SIZES) {
    const png = readPng(await readFile(join(FOLDER, 'png', `${size}x${size}.png`)));
    expect(png.size).toEqual([size, size]);
    const at = (x: number, y: number) => png.pixel(Math.floor((x * size) / 32), Math.floor((y * size) / 32));
    // A corner, the ground, a compression, and the middle of the breath.
    expect([at(0, 0)[3] === 255, at(16, 4), at(7, 11), at(20, 22)]).toEqual([
      false,
      [0xfb, 0xfa, 0xf7, 255],
      [0x1f, 0x4e, 0x79, 255],
      [0xfb, 0xfa, 0xf7, 255],
    ]);
  }
});

test('the Windows and the macOS icon hold the same drawings', async () => {
  const ico = await readFile(join(FOLDER, 'antiphon.ico'));
  const inIco = Array.from({ length: ico.readUInt16LE(4) }, (_, index) => {
    const entry = 6 + 16 * index;
    const from = ico.readUInt32LE(entry + 12);
    return readPng(ico.subarray(from, from + ico.readUInt32LE(entry + 8))).size[0];
  });
  expect(inIco).toEqual([16, 24, 32, 48, 64, 128, 256]);

  const icns = await readFile(join(FOLDER, 'antiphon.icns'));
  const inIcns: [string, number][] = [];
  for (let from = 8; from < icns.length; from += icns.readUInt32BE(from + 4)) {
    const length = icns.readUInt32BE(from + 4);
    const name = icns.subarray(from, from + 4).toString('latin1');
    inIcns.push([name, readPng(icns.subarray(from + 8, from + length)).size[0]]);
  }
  expect([icns.subarray(0, 4).toString('latin1'), icns.readUInt32BE(4)]).toEqual(['icns', icns.length]);
  expect(Object.fromEntries(inIcns)).toEqual({
    ic07: 128,
    ic08: 256,
    ic09: 512,
    ic10: 1024,
    ic11: 32,
    ic12: 64,
    ic13: 256,
    ic14: 512,
  });
});
