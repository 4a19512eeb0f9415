import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { launchChromium } from '../support/chromium.ts';
import { liveThroughDay, type Standing } from '../support/day-of-drills.ts';
import { makeTempFolder } from '../support/folder-for-test.ts';
import { keptJournal } from '../support/ledger-station.ts';
import { startStation } from '../support/started-station.ts';

/**
 * Nine short drills through the real page and host. What is counted is looked at: nodes, listeners, what keeps the host alive. Bytes are
 * not: in the first drills the engine itself still grows by more than a leak would. `npm run bench` has them, over sixty drills.
 */
const DRILLS = 9;
/** By now every screen has been there, and each guidance; the last drill has the same one again. */
const WARM = 3;
/** Set-up lists so many. */
const LISTED = 5;

test('a drill leaves no node, no listener and no open handle behind, from Set-up to the Debrief and back', async () => {
  const folder = await makeTempFolder();
  // The list of earlier drills is as long as it gets, or it would grow with the first ones.
  await mkdir(join(folder, 'journals'));
  for (let seed = 1; seed <= LISTED; seed += 1) {
    const { fileName, text } = keptJournal(
      { seed },
      { id: `0000000${seed}-0000-4000-8000-000000000000`, openedAt: `2026-01-0${seed}T09:00:00.000Z` },
    );
    await writeFile(join(folder, 'journals', fileName), text);
  }
  const station = await startStation(folder);
  onTestFinished(() => station.end());
  const browser = await launchChromium();
  onTestFinished(() => browser.close());
  const page = await browser.newPage();
  const problems: string[] = [];
  page.on('pageerror', (error) => problems.push(error.message));

  const standings = await liveThroughDay(page, station, { drills: DRILLS, everyMs: 40_000, cycles: 6 });

  expect(standings).toHaveLength(DRILLS);
  const grownBy = (of: keyof Standing) => (standings.at(-1)?.[of] ?? 0) - (standings[WARM - 1]?.[of] ?? 0);
  const drills = DRILLS - WARM;
  // One thing left behind by each drill would be so many; a node or two come and go with what the Debrief had to say.
  expect({
    domNodes: grownBy('domNodes') < drills,
    listeners: grownBy('listeners') < drills,
    hostHandles: grownBy('hostHandles') < drills,
    problems,
  }).toEqual({ domNodes: true, listeners: true, hostHandles: true, problems: [] });
}, 60_000);
