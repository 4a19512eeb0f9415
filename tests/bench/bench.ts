import { cpus, loadavg, totalmem } from 'node:os';
import { DrillDriver } from '../../machines/drill-driver.ts';
import { DrillFold } from '../../machines/drill-fold.ts';
import type { OpenLine } from '../../machines/journal.ts';
import type { NumberedLine } from '../../machines/journal-reader.ts';
import { rehearse } from '../../machines/rehearsal/rehearse.ts';
import { replay } from '../../machines/replay.ts';
import { reportOf } from '../../machines/scoring/report.ts';
import { withPlusMinus } from '../../machines/scoring/report-plus-minus.ts';
import { builtSizes } from './bundle.ts';
import { sayComparisons } from './comparisons.ts';
import { countCost } from './count-cost.ts';
import { sayCoverage } from './coverage.ts';
import { dayOfDrills, growthsOf } from './day-of-drills.ts';
import { ledgerCost } from './ledger.ts';
import { pressToPaint } from './press-to-paint.ts';
import { type Start, starts } from './start.ts';

/** Benchmarks: figures to read, not tests to pass. Each says what it is held against. */

type Drill = { open: OpenLine; lines: NumberedLine[]; edges: number };

/** A synthetic drill of so many edges: a rehearsed one, repeated end to end with its times moved on. */
function drillOf(edges: number): Drill {
  const source = rehearse({ seed: 1, minutes: 10, plan: 'steady' });
  const body = source.lines.filter((line) => line.kind === 'edge');
  const lines: NumberedLine[] = [{ number: 2, line: { kind: 'call', at: 0, call: 'begin' } }];
  const spanMs = Math.ceil((body.at(-1)?.at ?? 0) / 2000) * 2000;
  for (let index = 0; index < edges; index += 1) {
    const edge = body[index % body.length];
    if (edge === undefined) break;
    const at = Math.round((edge.at + Math.floor(index / body.length) * spanMs) * 1000) / 1000;
    lines.push({ number: index + 3, line: { ...edge, at } });
  }
  return { open: source.open, lines, edges };
}

function measure(run: () => void, times: number): number {
  const took: number[] = [];
  for (let index = 0; index < times; index += 1) {
    const from = performance.now();
    run();
    took.push(performance.now() - from);
  }
  took.sort((one, other) => one - other);
  return took[Math.floor(times / 2)] ?? Number.NaN;
}

function fold(drill: Drill): DrillFold {
  const made = new DrillFold(drill.open);
  for (const line of drill.lines) made.take(line);
  return made;
}

function say(what: string, figure: string, against = ''): void {
  console.log(`${what.padEnd(58)}${figure.padStart(14)}   ${against}`);
}

console.log(
  `${cpus()[0]?.model.trim()} × ${cpus().length}, ${Math.round(totalmem() / 2 ** 30)} GiB, Node ${process.version}, ${process.platform}, load ${loadavg()[0]?.toFixed(1)}\n`,
);

const ten = rehearse({ seed: 1, minutes: 10, plan: 'steady' });
const tenLines = ten.lines.map((line, index) => ({ number: index + 2, line }));
const tenMs = measure(() => reportOf(replay(ten.open, tenLines)), 101);
say('a ten-minute drill, lines to report, median of 101', `${tenMs.toFixed(2)} ms`, 'wanted: under 5 ms');
for (const plan of ['steady', 'techniques'] as const) {
  const { open, lines } = rehearse({ seed: 1, minutes: 10, plan });
  const played = replay(
    open,
    lines.map((line, index) => ({ number: index + 2, line })),
  );
  const report = reportOf(played);
  const plusMinusMs = measure(() => withPlusMinus(report, played), 21);
  say(
    `… ± beside its figures at the end, bouts: ${report.bouts.length}, median of 21`,
    `${plusMinusMs.toFixed(1)} ms`,
    'wanted: under 150 ms',
  );
}

const million = drillOf(1_000_000);
const millionMs = measure(() => fold(million), 3);
say(
  'a million edges from parsed lines, to rows, median of 3',
  `${millionMs.toFixed(0)} ms`,
  'wanted: under 1 000 ms',
);
const folded = fold(million);
const { rows } = folded.tracker.book;
say(`… their ${rows.size} rows`, `${(rows.bytes / 2 ** 20).toFixed(1)} MiB`, 'wanted: under 20 MB');
folded.end();
say('… figures from those rows', `${measure(() => reportOf(folded), 3).toFixed(0)} ms`);

for (const edges of [1_000, 10_000, 100_000, 1_000_000]) {
  const drill = drillOf(edges);
  const times = Math.max(3, Math.min(51, Math.floor(2_000_000 / edges)));
  say(
    `cost an edge in a drill of ${edges}`,
    `${((measure(() => fold(drill), times) * 1000) / edges).toFixed(3)} µs`,
    'wanted: flat',
  );
}

const live = drillOf(20_000);
const driverMs = measure(() => void new DrillDriver(live.open).take(live.lines), 5);
const foldMs = measure(() => fold(live), 5);
say(
  'the chart’s own cost an edge, in a drill of 20 000',
  `${(((driverMs - foldMs) * 1000) / live.edges).toFixed(1)} µs`,
  'people press 4 edges a second each',
);

const { idleMs, countingMs } = await countCost();
say('a minute of the window with nothing to do', `${idleMs.toFixed(0)} ms`, 'of its main thread');
say('a minute of counting, pulse and all', `${countingMs.toFixed(0)} ms`, 'of its main thread');

const kilobytes = (bytes: number) => `${(bytes / 1000).toFixed(bytes < 10_000 ? 1 : 0)} kB`;
for (const { name, bytes, gzipped } of await builtSizes())
  say(name, kilobytes(bytes), gzipped === null ? '' : `gzip ${kilobytes(gzipped)}`);

const spread = (values: readonly number[]) => {
  const sorted = [...values].sort((one, other) => one - other);
  const at = (share: number) => (sorted[Math.floor(share * (sorted.length - 1))] ?? Number.NaN).toFixed(0);
  return [`${at(0.5)} ms`, `${at(0)} to ${at(1)} ms, ${sorted.length} times`] as const;
};
const { browserMs, fresh, full } = await starts(7, 10_000);
const whole = ({ hostMs, pageMs }: Start) => hostMs + pageMs;
say('from starting the built station to the first key in a name field, median', ...spread(fresh.map(whole)));
say('… of it the program, until it serves', ...spread(fresh.map(({ hostMs }) => hostMs)));
say('… the same with 10 000 drills and their index', ...spread(full.map(whole)));
say('… a browser’s own start, which comes on top, once', `${browserMs.toFixed(0)} ms`);

const paints = await pressToPaint();
say('from a switch’s event to the row it ends on the sheet, disk and back', ...spread(paints.rows));
say('from a call’s key to its button, painted', ...spread(paints.calls));
say(
  '… keys on the Floor whose next frame came 16 ms later or more, as the browser says',
  `${paints.slowEvents} of ${paints.events}`,
  `longest ${paints.longestEventMs} ms, in steps of 8`,
);

const day = await dayOfDrills(60);
console.log(
  '\na day of sixty drills: what is left after the first, the tenth, the last; growth a drill from the tenth on',
);
for (const { name, first, tenth, last, slope, low, high, isGrowth } of growthsOf(day))
  say(
    `${name}: ${first}, ${tenth}, ${last}`,
    `${slope}`,
    `${low} to ${high} a drill: ${isGrowth ? 'IT GROWS' : 'no growth'}`,
  );
console.log();

const ledger = await ledgerCost(10_000);
const seconds = (ms: number) => `${(ms / 1000).toFixed(1)} s`;
say(
  `the Ledger of ${ledger.drills} drills of two minutes, index from scratch`,
  seconds(ledger.scratchMs),
  `${(ledger.bytes / 2 ** 20).toFixed(0)} MiB of journals; goes on behind the list`,
);
say('… a station’s first list, from the index', `${ledger.loadMs.toFixed(0)} ms`, 'wanted: no wait');
say('… its next list', `${ledger.listMs.toFixed(0)} ms`, 'wanted: no wait');
say('… by person, rig and words', `${ledger.filterMs.toFixed(0)} ms`, 'wanted: no wait');
say('… a person’s page', `${ledger.personMs.toFixed(0)} ms`, 'wanted: no wait');
say('… one of its drills opened', `${ledger.openMs.toFixed(0)} ms`, 'wanted: no wait');
say('… a person removed from it, with the proof', seconds(ledger.removalMs));

sayCoverage();
sayComparisons();
