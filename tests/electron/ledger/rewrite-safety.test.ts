import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Result } from '../../../electron/contract.ts';
import type { Ledger } from '../../../electron/ledger/ledger.ts';
import { newClass } from '../../../machines/class/class-file.ts';
import { readJournal } from '../../../machines/journal-reader.ts';
import { type Choose, ForgetfulDisk } from '../../support/forgetful-disk.ts';
import { keptJournal, ledgerOn } from '../../support/ledger-station.ts';

const FOLDER = '/journals';
const NAME = 'Zebulon';
const note = { kind: 'note', at: 0, text: `${NAME} was tired` };
/** Two of Zebulon's drills, one of which nobody else was in, and one of others. */
const KEPT = [
  keptJournal({ seed: 1, people: { A: NAME, B: 'Ben' } }),
  keptJournal({ seed: 2, people: { A: 'Cy', B: NAME.toUpperCase() } }),
  keptJournal({ seed: 3, people: { A: NAME, B: 'someone' } }),
  keptJournal({ seed: 4, people: { A: 'Cy', B: 'Ben' } }),
].map(({ text, ...rest }) => ({ ...rest, text: text.replace('\n', `\n${JSON.stringify(note)}\n`) }));

const CHANGES: Record<string, (ledger: Ledger) => Promise<Result<unknown>>> = {
  'a removal': (ledger) => ledger.removePerson(NAME),
  'a correction': (ledger) => ledger.renamePerson({ from: NAME, to: 'Zebedee', drillId: null }),
  'a filing': (ledger) => ledger.file({ drillId: KEPT[0]?.drillId ?? '', title: 'First', archived: true }),
  'taking a drill away': (ledger) => ledger.removeDrill(KEPT[0]?.drillId ?? ''),
};

function diskWith(crashAfter?: number): ForgetfulDisk {
  const disk = new ForgetfulDisk(crashAfter);
  for (const { fileName, text } of KEPT) disk.put(`${FOLDER}/${fileName}`, text);
  return disk;
}

/** The journals of a disk by file name, null where there is none. */
function journalsOf(disk: ForgetfulDisk): (string | null)[] {
  return KEPT.map(({ fileName }) => {
    const path = `${FOLDER}/${fileName}`;
    return disk.paths().includes(path) ? Buffer.from(disk.bytesOf(path)).toString('utf8') : null;
  });
}

/** Every byte of a disk, names of files too. */
function everything(disk: ForgetfulDisk): string {
  return disk
    .paths()
    .map((path) => path + Buffer.from(disk.bytesOf(path)).toString('latin1'))
    .join('\n')
    .toLowerCase();
}

async function done(change: (ledger: Ledger) => Promise<Result<unknown>>): Promise<ForgetfulDisk> {
  const disk = diskWith();
  expect(await change(ledgerOn(disk).ledger)).toMatchObject({ ok: true });
  return disk;
}

test('a removal leaves the name in no byte of the folder, every press where it was, and others as they were', async () => {
  const disk = diskWith();
  const { ledger, remembered, host } = ledgerOn(disk);
  remembered.settings = remembered.settings && {
    ...remembered.settings,
    people: { A: ' zebulon', B: 'Ben' },
  };
  await host.list();
  expect(everything(disk)).toContain(NAME.toLowerCase());
  expect(await ledger.removePerson(NAME)).toEqual({
    ok: true,
    value: { drills: 3, removedDrills: 1, leftIn: [] },
  });
  expect(everything(disk)).not.toContain(NAME.toLowerCase());
  expect(remembered.settings?.people).toEqual({ A: '', B: 'Ben' });
  const [first, second, third, others] = journalsOf(disk);
  const emptied = (text: string | undefined) => text?.replace(`"${NAME} was tired"`, '""');
  expect(first).toBe(emptied(KEPT[0]?.text)?.replace(`"A":"${NAME}"`, '"A":"someone"'));
  expect(second).toBe(emptied(KEPT[1]?.text)?.replace(`"B":"${NAME.toUpperCase()}"`, '"B":"someone"'));
  expect(third).toBe(null);
  expect(others).toBe(KEPT[3]?.text.replace(NAME, '…'));
  const page = await ledger.person('Ben', null);
  expect(page.ok && page.value?.rigs.manikin.ventilator.trend.map(({ partner }) => partner)).toEqual([
    'someone',
    'Cy',
  ]);
});

test('leftovers of a rewrite that a power cut stopped go with the name', async () => {
  const disk = diskWith();
  disk.put(`${FOLDER}/x.antiphon.jsonl.part`, `{"kind":"open","people":{"A":"${NAME}`);
  disk.put(`${FOLDER}/settings.json.bad`, `{"A":"${NAME}"`);
  expect(await ledgerOn(disk).ledger.removePerson(NAME)).toMatchObject({ ok: true, value: { leftIn: [] } });
  expect(everything(disk)).not.toContain(NAME.toLowerCase());
});

test('journals that are damaged or a newer release’s are left as they are, and named', async () => {
  const disk = diskWith();
  const newer = `{"kind":"open","version":2,"people":{"A":"${NAME}"}}\n`;
  const damaged = `${KEPT[0]?.text}{"kind":"call","at":-1}\n`;
  disk.put(`${FOLDER}/newer.antiphon.jsonl`, newer);
  disk.put(`${FOLDER}/damaged.antiphon.jsonl`, damaged);
  const { ledger } = ledgerOn(disk);
  expect(await ledger.removePerson(NAME)).toMatchObject({
    ok: true,
    value: { leftIn: ['damaged.antiphon.jsonl', 'newer.antiphon.jsonl'] },
  });
  expect(Buffer.from(disk.bytesOf(`${FOLDER}/newer.antiphon.jsonl`)).toString()).toBe(newer);
  expect(Buffer.from(disk.bytesOf(`${FOLDER}/damaged.antiphon.jsonl`)).toString()).toBe(damaged);
  const { host } = ledgerOn(disk);
  expect(await host.ledger()).toMatchObject({
    ok: true,
    value: {
      leftAlone: [
        { fileName: 'newer.antiphon.jsonl', why: 'newer' },
        { fileName: 'damaged.antiphon.jsonl', why: 'damaged' },
      ],
    },
  });
});

describe.each(Object.entries(CHANGES))('when the power goes during %s', (_what, change) => {
  test('each journal is as before or as wanted, what was answered is done, and asking again does the rest', async () => {
    const wanted = await done(change);
    const whole = journalsOf(wanted);
    let crashes = 0;
    await fc.assert(
      fc.asyncProperty(
        fc.integer({ min: 0, max: 60 }),
        fc.integer({ min: 40, max: 20_000 }),
        fc.infiniteStream(fc.nat()),
        async (crashAfter, longestWrite, numbers) => {
          const disk = diskWith(crashAfter);
          disk.longestWrite = longestWrite;
          const answer = await Promise.race([change(ledgerOn(disk).ledger), quiet().then(() => null)]);
          if (answer === null) crashes += 1;
          const choose: Choose = (below) => Number(numbers.next().value) % below;
          const survivor = disk.afterCrash(choose);
          for (const [index, text] of journalsOf(survivor).entries()) {
            expect([KEPT[index]?.text ?? null, whole[index]]).toContain(text);
            if (answer?.ok === true) expect(text).toBe(whole[index]);
            if (text !== null) expect(readJournal(text).ok).toBe(true);
          }
          const again = await change(ledgerOn(survivor).ledger);
          if (!again.ok) expect(again.code).toBe('no-such-drill');
          expect(journalsOf(survivor)).toEqual(whole);
          if (!everything(wanted).includes(NAME.toLowerCase()))
            expect(everything(survivor)).not.toContain(NAME.toLowerCase());
        },
      ),
      { numRuns: 100, seed: 20260302 },
    );
    expect(crashes).toBeGreaterThan(20);
  }, 60_000);
});

const REWRITES = Object.entries(CHANGES).filter(([what]) => what !== 'taking a drill away');
describe.each(REWRITES)('when the disk refuses %s', (_what, change) => {
  test.each([
    ['create', 'EROFS', 'there is no permission to write the journal: nothing was changed'],
    ['write', 'ENOSPC', 'the disk is full: nothing was changed'],
    ['syncAll', 'EIO', 'the disk reports a fault: nothing was changed'],
    ['rename', 'EACCES', 'there is no permission to write the journal: nothing was changed'],
  ])(
    'at %s with %s, every journal is whole as before and the sentence says so',
    async (call, code, message) => {
      const disk = diskWith();
      const { ledger, host } = ledgerOn(disk);
      await host.list();
      disk.failures.set(call, Array<string>(20).fill(code));
      const answer = await change(ledger);
      expect(answer).toEqual({ ok: false, code: 'disk', message });
      expect(journalsOf(disk)).toEqual(KEPT.map(({ text }) => text));
      expect(disk.paths().filter((path) => path.endsWith('.part'))).toEqual([]);
      disk.failures.clear();
      expect(await change(ledger)).toMatchObject({ ok: true });
      expect(journalsOf(disk)).toEqual(journalsOf(await done(change)));
    },
  );
});

test('a drill that the disk does not let be taken away stays, and can be read', async () => {
  const disk = diskWith();
  const { ledger, host } = ledgerOn(disk);
  const drillId = KEPT[0]?.drillId ?? '';
  await host.list();
  disk.failures.set('remove', ['EACCES']);
  expect(await ledger.removeDrill(drillId)).toEqual({
    ok: false,
    code: 'disk',
    message: 'there is no permission to write the journal: nothing was changed',
  });
  expect(await host.read(drillId)).toMatchObject({ ok: true, value: { isClosed: true } });
});

/** Until the disk has had nothing to do for a while. */
async function quiet(): Promise<void> {
  for (let turn = 0; turn < 400; turn += 1) await new Promise((resolve) => setImmediate(resolve));
}

test('a name that signed, or is in the day’s class, goes too; who drilled with them stays', async () => {
  const disk = diskWith();
  const { host, ledger, remembered } = ledgerOn(disk);
  const [kept] = KEPT;
  if (kept === undefined) throw new Error('no journal');
  const signature = {
    kind: 'signature',
    at: 90_000,
    signedAt: '2026-03-02T10:04:05.000Z',
    person: 'B',
    decision: 'met',
  };
  const signed = { ...signature, by: `${NAME} the instructor`, standard: 'The course’s own' };
  disk.put(`${FOLDER}/${kept.fileName}`, `${kept.text}${JSON.stringify(signed)}\n`);
  const group = { station: 1, chest: NAME, airway: 'Ben', observer: 'Cy' };
  const people = [NAME, 'Ben', 'Cy'].map((name) => ({ name, isHere: true }));
  remembered.class = { ...newClass([], 1), people, done: [{ groups: [group] }] };
  expect(await ledger.removePerson(NAME)).toMatchObject({ ok: true, value: { leftIn: [] } });
  expect(everything(disk)).not.toContain(NAME.toLowerCase());
  expect(remembered.class.people.map(({ name }) => name)).toEqual(['Ben', 'Cy', 'someone']);
  expect(remembered.class.done).toEqual([{ groups: [{ ...group, chest: 'someone' }] }]);
  const read = await host.read(kept.drillId);
  expect(read.ok && read.value.lines.at(-1)?.line).toEqual({ ...signed, by: '… the instructor' });
});
