import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { formatLine, JOURNAL_SUFFIX } from '../../machines/journal.ts';
import type { SampleDrill } from './sample-drills.ts';
import { sampleDrill } from './sample-drills.ts';
import type { ServedStation } from './served-station.ts';

/** Puts a sample drill's journal into the station's folder and opens it in the page, up to "ask them first". */
export async function openSample(page: Page, station: ServedStation, name: SampleDrill): Promise<void> {
  const { open, lines } = sampleDrill(name);
  await mkdir(station.journalFolder, { recursive: true });
  const text = [open, ...lines].map((line) => `${formatLine(line)}\n`).join('');
  await writeFile(join(station.journalFolder, `${name}${JOURNAL_SUFFIX}`), text);
  // The page's address has only another fragment than a page of it that is open: that alone would load nothing.
  await page.goto('about:blank');
  await page.goto(station.loopback.address);
  await page.getByRole('button', { name: /^Debrief of Mirela and Ivo/ }).click();
  await page.getByText('Ask them first').waitFor();
}

/** The figures of a sample drill, shown. */
export async function showSample(page: Page, station: ServedStation, name: SampleDrill): Promise<void> {
  await openSample(page, station, name);
  await page.getByRole('button', { name: 'Show the figures' }).click();
  await page.locator('.headline').waitFor();
}
