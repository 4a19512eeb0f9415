import { expect, test } from 'vitest';
import { NO_FILTER } from '../../../machines/ledger/filter.ts';
import { openLineOf, setupOf, textOf, WINDOW_ID } from '../../support/drills.ts';
import { ForgetfulDisk } from '../../support/forgetful-disk.ts';
import { ledgerOn } from '../../support/ledger-station.ts';

const COUNT = 150;
const QUERY = { filter: NO_FILTER, from: 0, count: 500 };

function diskWithMany(): ForgetfulDisk {
  const disk = new ForgetfulDisk();
  for (let index = 0; index < COUNT; index += 1) {
    const id = `${String(index).padStart(8, '0')}-0000-4000-8000-ffffffffffff`;
    const text = textOf(openLineOf(id), { kind: 'close', at: 0 });
    disk.put(`/journals/${id.slice(0, 8)}.antiphon.jsonl`, text);
  }
  return disk;
}

test('of many journals that were never read the list comes at once, says how many are to come, and fills itself', async () => {
  const disk = diskWithMany();
  const { ledger, host } = ledgerOn(disk);
  expect(await ledger.list(QUERY)).toEqual({
    ok: true,
    value: { entries: [], total: 0, unread: COUNT, leftAlone: [] },
  });
  const all = await host.ledger('all');
  expect(all.ok && [all.value.entries.length, all.value.unread]).toEqual([COUNT, 0]);
  expect(await ledger.list(QUERY)).toMatchObject({ ok: true, value: { total: COUNT, unread: 0 } });
  expect(await ledgerOn(disk).ledger.list(QUERY)).toMatchObject({
    ok: true,
    value: { total: COUNT, unread: 0 },
  });
});

test('while a drill runs the others wait, and its own presses do not', async () => {
  const disk = diskWithMany();
  const { ledger, host } = ledgerOn(disk);
  const opened = await host.openDrill(setupOf());
  if (!opened.ok) throw new Error(opened.message);
  for (let turn = 0; turn < 3; turn += 1) {
    expect(await ledger.list(QUERY)).toMatchObject({ ok: true, value: { total: 1, unread: COUNT } });
  }
  const { drillId } = opened.value;
  await host.append({ drillId, windowId: WINDOW_ID, sequence: 1, lines: [{ kind: 'close', at: 1 }] });
  const all = await host.ledger('all');
  expect(all.ok && [all.value.entries.length, all.value.unread]).toEqual([COUNT + 1, 0]);
});

test('a page of the list is so many, from the newest on', async () => {
  const { ledger, host } = ledgerOn(diskWithMany());
  await host.ledger('all');
  const part = await ledger.list({ ...QUERY, from: 100, count: 20 });
  expect(part.ok && [part.value.entries.length, part.value.total]).toEqual([20, COUNT]);
});
