import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { theilSen } from '../../machines/statistics/theil-sen.ts';
import { launchChromium } from '../support/chromium.ts';
import { liveThroughDay, type Standing } from '../support/day-of-drills.ts';
import { startStation } from '../support/started-station.ts';

export type Growth = {
  name: keyof Standing;
  first: number;
  tenth: number;
  last: number;
  /** More with each drill, and the ends of the 95 % interval. */
  slope: number;
  low: number;
  high: number;
  isGrowth: boolean;
};

/**
 * What may be more with each drill (tool default). A drill leaves its entry in the host's index and in the list that the page has of all
 * drills, about a kB each, and is meant to; a thousand drills a year of that are nothing. Of what is counted, less than one in ten drills.
 */
const ALLOWED: Readonly<Record<keyof Standing, number>> = {
  pageHeap: 3000,
  domNodes: 0.1,
  listeners: 0.1,
  hostHeap: 3000,
  hostHandles: 0.1,
};
const FROM_DRILL = 10;
/** Two to five minutes are usual; the browser is then closed, and whatever waits for it fails. */
const LONGEST_MS = 900_000;
/**
 * Without the engine's compilers, in the page and in the host: they go on compiling for hours, and what they make lies in the same heap
 * (seen in snapshots: more than anything else that was added between the twentieth drill and the fiftieth).
 */
const UNCOMPILED = ['--no-opt', '--no-maglev', '--no-sparkplug'];

/** Growth is what Theil–Sen's interval over the drills from the tenth on leaves no doubt of: its low end is over what is allowed. */
export function growthsOf(day: readonly Standing[]): Growth[] {
  const late = day.slice(FROM_DRILL - 1);
  const names: (keyof Standing)[] = ['pageHeap', 'domNodes', 'listeners', 'hostHeap', 'hostHandles'];
  return names.map((name) => {
    const values = late.map((one) => one[name]);
    const { slope, low, high } = theilSen(
      values.map((_, index) => index),
      values,
    );
    if (slope === null || low === null || high === null) throw new Error(`no slope of ${late.length} drills`);
    const rounded = (value: number) => Math.round(value * 100) / 100;
    return {
      name,
      first: day[0]?.[name] ?? Number.NaN,
      tenth: values[0] ?? Number.NaN,
      last: values.at(-1) ?? Number.NaN,
      slope: rounded(slope),
      low: rounded(low),
      high: rounded(high),
      isGrowth: low > ALLOWED[name],
    };
  });
}

/** So many drills of a minute, one every eight minutes of the page's time; sixty are eight hours. */
export async function dayOfDrills(drills: number): Promise<Standing[]> {
  const folder = await mkdtemp(join(tmpdir(), 'antiphon-day-'));
  const station = await startStation(folder, UNCOMPILED);
  const browser = await launchChromium({ words: [`--js-flags=${UNCOMPILED.join(',')}`] });
  const tooLong = setTimeout(() => void browser.close(), LONGEST_MS);
  try {
    const page = await browser.newPage();
    return await liveThroughDay(page, station, { drills, everyMs: 480_000, cycles: 30 });
  } finally {
    clearTimeout(tooLong);
    await browser.close();
    await station.end();
    await rm(folder, { recursive: true });
  }
}
