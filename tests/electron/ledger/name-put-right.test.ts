import { expect, test } from 'vitest';
import { newClass } from '../../../machines/class/class-file.ts';
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

test('and in the day’s class and its turns, but where somebody else there has the right one', async () => {
  const { ledger, remembered } = stationThatRemembers('');
  const turn = (chest: string) => ({ groups: [{ station: 1, chest, airway: 'Ben', observer: null }] });
  remembered.class = { ...newClass(['ADDA', 'Ben'], 1), done: [turn('ADDA')] };
  await ledger.renamePerson({ from: 'Adda', to: 'Ada', drillId: null });
  expect(remembered.class).toEqual({ ...newClass(['Ada', 'Ben'], 1), done: [turn('Ada')] });
  const two = newClass(['Ada', 'Adele', 'Ben'], 1);
  remembered.class = two;
  await ledger.renamePerson({ from: 'Ada', to: 'adele', drillId: null });
  expect(remembered.class).toBe(two);
});

test('a drill that somebody copied in the folder counts once, and both go when it is removed', async () => {
  const disk = new ForgetfulDisk();
  const [kept] = KEPT;
  if (kept === undefined) throw new Error('no journal');
  for (const name of [kept.fileName, `copy-${kept.fileName}`]) disk.put(`/journals/${name}`, kept.text);
  const { ledger } = ledgerOn(disk);
  expect(await ledger.person('Adda', null)).toMatchObject({ value: { drills: 1 } });
  expect(await ledger.removeDrill(kept.drillId)).toEqual({ ok: true, value: null });
  expect(disk.paths().filter((path) => path.endsWith('.jsonl'))).toEqual([]);
});
