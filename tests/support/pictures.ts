import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import pixelmatch from 'pixelmatch';
import type { Page } from 'playwright-core';
import { PNG } from 'pngjs';

/** Kept pictures of pages. `ANTIPHON_PICTURES=take npx vitest run tests/browser/debrief-pictures.test.ts` takes them anew. */
const FOLDER = 'tests/browser/pictures';
/**
 * Tool defaults. A pixel counts as different from a tenth of the greatest difference of colours there is (pixelmatch's own default,
 * which leaves out anti-aliased edges); a picture is as kept while under 1 in 500 of its pixels differ: a word that is another,
 * or a row of the sheet that has moved, is more than that.
 */
export const TOLERANCE = { pixel: 0.1, share: 0.002 } as const;

/** Share of a picture's pixels that are not as kept, 0 to 1; 1 when the sizes differ. What is there now is left in `dist/pictures`. */
export async function differenceFromKept(name: string, taken: Uint8Array): Promise<number> {
  const path = join(FOLDER, `${name}.png`);
  if (process.env.ANTIPHON_PICTURES === 'take') {
    await mkdir(FOLDER, { recursive: true });
    await writeFile(path, taken);
    return 0;
  }
  const now = PNG.sync.read(Buffer.from(taken));
  const kept = PNG.sync.read(await readFile(path));
  if (now.width !== kept.width || now.height !== kept.height) {
    await leave(name, taken);
    return 1;
  }
  const { width, height } = now;
  const differing = pixelmatch(kept.data, now.data, undefined, width, height, { threshold: TOLERANCE.pixel });
  if (differing > 0) await leave(name, taken);
  return differing / (width * height);
}

async function leave(name: string, taken: Uint8Array): Promise<void> {
  await mkdir('dist/pictures', { recursive: true });
  await writeFile(join('dist/pictures', `${name}.png`), taken);
}

/** That width on the machine of the kept pictures: DejaVu Sans, as Debian’s Chromium shows it. */
export const KEPT_LETTERS = 450;

/** The width of a line in the page's own letters, px: pictures are comparable only where it is that of the kept ones. */
export async function widthOfLetters(page: Page): Promise<number> {
  return await page.evaluate(() => {
    const context = document.createElement('canvas').getContext('2d');
    if (context === null) return 0;
    context.font = `16px ${getComputedStyle(document.documentElement).fontFamily}`;
    return Math.round(context.measureText('three compressions and a breath, in place: 0123456789').width);
  });
}
