import { expect, test } from 'vitest';
import type { Disk } from '../../../electron/disk.ts';
import { ForgetfulDisk } from '../../support/forgetful-disk.ts';
import { keptJournal, ledgerOn } from '../../support/ledger-station.ts';

test('a drill that is opened, its end torn, while a name is taken out of it stays whole', async () => {
  const disk = new ForgetfulDisk();
  const { drillId, fileName, text } = keptJournal({ seed: 1, people: { A: 'Zebulon Longname', B: 'Ben' } });
  const path = `/journals/${fileName}`;
  const unclosed = text.split('\n').slice(0, 20).join('\n');
  disk.put(path, `${unclosed}\n{"kind":"note","at":99,"text":"Zebulon Lo`);
  let goOn = (): void => undefined;
  const removed = new Promise<void>((resolve) => {
    goOn = resolve;
  });
  let mends = 0;
  const slow = new Proxy(disk, {
    get(of, key) {
      if (key !== 'mend') {
        const value: unknown = Reflect.get(of, key);
        return typeof value === 'function' ? value.bind(of) : value;
      }
      return async (one: string) => {
        mends += 1;
        // The first is the reader's: it has scanned the file, and is held up.
        if (mends === 1) await removed;
        return await of.mend(one);
      };
    },
  }) as Disk;
  const { host, ledger } = ledgerOn(slow);
  await host.list();
  const reading = host.read(drillId);
  while (mends === 0) await new Promise((resolve) => setImmediate(resolve));
  expect(await ledger.removePerson('Zebulon Longname')).toMatchObject({ ok: true, value: { drills: 1 } });
  goOn();
  await reading;
  const after = Buffer.from(disk.bytesOf(path)).toString('utf8');
  expect(after).not.toContain('Zebulon');
  expect(after).not.toContain('\0');
  expect(await host.read(drillId)).toMatchObject({ ok: true, value: { open: { people: { A: 'someone' } } } });
});
