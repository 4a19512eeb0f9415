import { crc32, deflateSync } from 'node:zlib';

/** Icon files from drawn pixels. The layouts of PNG, ICO and ICNS are written from memory. */

export function pngOf(pixels, size) {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(size, 0);
  head.writeUInt32BE(size, 4);
  // Eight bits a channel, red, green, blue and alpha.
  head.set([8, 6, 0, 0, 0], 8);
  const rows = [];
  for (let row = 0; row < size; row += 1) {
    rows.push(Buffer.of(0), pixels.subarray(row * size * 4, (row + 1) * size * 4));
  }
  const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  const data = deflateSync(Buffer.concat(rows), { level: 9 });
  return Buffer.concat([signature, chunk('IHDR', head), chunk('IDAT', data), chunk('IEND', Buffer.alloc(0))]);
}

/** Windows: a list of PNGs up to 256, where 256 is written as 0. */
export function icoOf(pngs) {
  const kept = [...pngs].filter(([size]) => size <= 256);
  const head = Buffer.alloc(6 + 16 * kept.length);
  head.set([0, 0, 1, 0, kept.length, 0]);
  let offset = head.length;
  for (const [index, [size, png]] of kept.entries()) {
    const at = 6 + 16 * index;
    head.set([size % 256, size % 256, 0, 0, 1, 0, 32, 0], at);
    head.writeUInt32LE(png.length, at + 8);
    head.writeUInt32LE(offset, at + 12);
    offset += png.length;
  }
  return Buffer.concat([head, ...kept.map(([, png]) => png)]);
}

/** macOS: PNGs under the names of their sizes; those from ic11 on are for screens of twice the density. */
const ICNS_NAMES = [
  ['ic07', 128],
  ['ic08', 256],
  ['ic09', 512],
  ['ic10', 1024],
  ['ic11', 32],
  ['ic12', 64],
  ['ic13', 256],
  ['ic14', 512],
];

export function icnsOf(pngs) {
  const parts = ICNS_NAMES.map(([name, size]) => tagged(name, pngs.get(size)));
  return tagged('icns', Buffer.concat(parts));
}

/** A name of four letters and the length of all of it, then the content. */
function tagged(name, content) {
  const head = Buffer.alloc(8);
  head.write(name, 0, 'latin1');
  head.writeUInt32BE(8 + content.length, 4);
  return Buffer.concat([head, content]);
}

function chunk(name, data) {
  const body = Buffer.concat([Buffer.from(name, 'latin1'), data]);
  const head = Buffer.alloc(4);
  head.writeUInt32BE(data.length);
  const tail = Buffer.alloc(4);
  tail.writeUInt32BE(crc32(body));
  return Buffer.concat([head, body, tail]);
}
