import { execFile } from 'node:child_process';
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';

const run = promisify(execFile);

/** A page of a PDF as Poppler sees it: its text, its size in points, and how far from each edge its first ink is, in mm. */
export type PdfPage = { text: string; size: [width: number, height: number]; blankMm: Record<Edge, number> };
type Edge = 'left' | 'right' | 'top' | 'bottom';
const DPI = 100;
/** Lighter than this is paper. */
const INK = 250;

export async function pagesOfPdf(pdf: Uint8Array): Promise<PdfPage[]> {
  const folder = await mkdtemp(join(tmpdir(), 'antiphon-pdf-'));
  try {
    const file = join(folder, 'paper.pdf');
    await writeFile(file, pdf);
    await run('pdftoppm', ['-gray', '-r', String(DPI), file, join(folder, 'page')]);
    const images = (await readdir(folder)).filter((name) => name.endsWith('.pgm')).sort();
    return await Promise.all(
      images.map(async (name, index) => {
        const number = String(index + 1);
        const { stdout: text } = await run('pdftotext', ['-layout', '-f', number, '-l', number, file, '-']);
        const image = readPgm(await readFile(join(folder, name)));
        return {
          text,
          size: [(image.width * 72) / DPI, (image.height * 72) / DPI],
          blankMm: blankEdges(image),
        };
      }),
    );
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

type Image = { width: number; height: number; grey: Uint8Array };

/** A binary PGM of one byte a pixel (Netpbm's P5). */
function readPgm(bytes: Uint8Array): Image {
  const header = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(Buffer.from(bytes.subarray(0, 64)).toString('latin1'));
  if (header === null) throw new Error('not a PGM of one byte a pixel');
  return { width: Number(header[1]), height: Number(header[2]), grey: bytes.subarray(header[0].length) };
}

function blankEdges({ width, height, grey }: Image): Record<Edge, number> {
  let [left, right, top, bottom] = [width, -1, height, -1];
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      if ((grey[y * width + x] ?? 255) >= INK) continue;
      left = Math.min(left, x);
      right = Math.max(right, x);
      top = Math.min(top, y);
      bottom = Math.max(bottom, y);
    }
  }
  const mm = (pixels: number) => (pixels * 25.4) / DPI;
  return { left: mm(left), right: mm(width - 1 - right), top: mm(top), bottom: mm(height - 1 - bottom) };
}
