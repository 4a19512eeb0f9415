import { expect, test } from 'vitest';
import { SETTINGS } from '../../support/drills.ts';
import { ForgetfulDisk } from '../../support/forgetful-disk.ts';
import { keptJournal, ledgerOn } from '../../support/ledger-station.ts';

const KEPT = [1, 2].map((seed) =>
  keptJournal({ seed, people: { A: 'Adda', B: 'Ben' }, openedAt: `2026-03-0${seed}T09:30:00.000Z` }),
);

function stationThatRemembers(A: string) {
  const disk = new ForgetfulDisk();
  for (const { fileName, text } of KEPT) disk.put(`/journals/${fileName}`, text);
  const station = ledgerOn(disk);
  station.remembered.settings = { ...SETTINGS, people: { A, B: 'Ben' } };
  return station;
}

test('a name that is put right in every drill is put right on Set-up too', async () => {
  const { ledger, remembered } = stationThatRemembers('ADDA');
  await ledger.renamePerson({ from: 'Adda', to: ' Ada ', drillId: null });
  expect(remembered.settings).toEqual({ ...SETTINGS, people: { A: 'Ada', B: 'Ben' } });
});

test('Set-up keeps a name that others of its drills still have, until the last of them is put right', async () => {
  const { ledger, remembered } = stationThatRemembers('Adda');
  const [first, second] = KEPT.map(({ drillId }) => drillId);
  await ledger.renamePerson({ from: 'Adda', to: 'Ada', drillId: first ?? null });
  expect(remembered.settings?.people.A).toBe('Adda');
  await ledger.renamePerson({ from: 'Adda', to: 'Ada', drillId: second ?? null });
  expect(remembered.settings?.people.A).toBe('Ada');
});
