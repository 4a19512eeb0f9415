import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { nodeDisk } from '../../electron/disk.ts';
import { formatLine } from '../../machines/journal.ts';
import { NO_FILTER } from '../../machines/ledger/filter.ts';
import { rehearse } from '../../machines/rehearsal/rehearse.ts';
import { ledgerOn } from '../support/ledger-station.ts';

export type LedgerCost = {
  drills: number;
  bytes: number;
  scratchMs: number;
  loadMs: number;
  listMs: number;
  filterMs: number;
  personMs: number;
  openMs: number;
  removalMs: number;
};

/** What a folder of so many drills of two minutes costs, in which a hundred people met. */
export async function ledgerCost(drills: number): Promise<LedgerCost> {
  const root = await mkdtemp(join(tmpdir(), 'antiphon-bench-'));
  try {
    const folder = join(root, 'journals');
    await mkdir(folder);
    const { bytes, someId } = await fillFolder(folder, drills, 2);
    const first = ledgerOn(nodeDisk, folder);
    const scratchMs = await timed(() => first.host.ledger('all'));
    const { host, ledger } = ledgerOn(nodeDisk, folder);
    const loadMs = await timed(() => host.ledger());
    const query = { from: 0, count: 50 };
    const listMs = await timed(() => ledger.list({ ...query, filter: NO_FILTER }));
    const filterMs = await timed(() =>
      ledger.list({ ...query, filter: { ...NO_FILTER, person: 'Person 7', rig: 'manikin', text: 'person' } }),
    );
    const personMs = await timed(() => ledger.person('Person 7', 90));
    const openMs = await timed(() => host.read(someId));
    const removalMs = await timed(() => ledger.removePerson('Person 7'));
    return { drills, bytes, scratchMs, loadMs, listMs, filterMs, personMs, openMs, removalMs };
  } finally {
    await rm(root, { recursive: true });
  }
}

/** Twenty different performances, each with other people, days and ids. */
export async function fillFolder(
  folder: string,
  drills: number,
  minutes: number,
): Promise<{ bytes: number; someId: string }> {
  const played = Array.from({ length: 20 }, (_, seed) => rehearse({ seed, minutes })).map(
    ({ open, lines }) => ({
      open,
      body: lines.map((line) => `${formatLine(line)}\n`).join(''),
    }),
  );
  let bytes = 0;
  let someId = '';
  for (let index = 0; index < drills; index += 1) {
    const one = played[index % played.length];
    if (one === undefined) break;
    const id = `${index.toString(16).padStart(8, '0')}-0000-4000-8000-000000000000`;
    const openedAt = new Date(Date.UTC(2026, 0, 1) + index * 600_000).toISOString();
    const people = { A: `Person ${index % 100}`, B: `Person ${(index + 1 + (index % 7)) % 100}` };
    const text = `${formatLine({ ...one.open, id, openedAt, people })}\n${one.body}`;
    const name = `${openedAt.slice(0, 19).replaceAll(':', '-')}Z-${id.slice(0, 8)}.antiphon.jsonl`;
    await writeFile(join(folder, name), text);
    bytes += text.length;
    if (index === Math.floor(drills / 2)) someId = id;
  }
  return { bytes, someId };
}

async function timed(work: () => Promise<{ ok: boolean }>): Promise<number> {
  const from = performance.now();
  const { ok } = await work();
  if (!ok) throw new Error('the Ledger refused');
  return performance.now() - from;
}
