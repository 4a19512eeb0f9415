import { spawnSync } from 'node:child_process';
import { mkdir, open, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Disk, nodeDisk } from '../../electron/disk.ts';
import { readJournalFile, scanJournal } from '../../electron/journal-text.ts';
import { formatLine, MAX_LINE_BYTES } from '../../machines/journal.ts';
import { edgeAt, edges, numbered, openLineOf, textOf } from '../support/drills.ts';
import { makeTempFolder } from '../support/folder-for-test.ts';

async function messageOf(bytes: Uint8Array | string): Promise<string | null> {
  const folder = await makeTempFolder();
  await writeFile(join(folder, 'a.jsonl'), bytes);
  const read = await readJournalFile(join(folder, 'a.jsonl'));
  return read.ok ? null : read.message.replace(`${folder}/`, '');
}

test('a journal is read with its lines numbered as they stand in the file', async () => {
  const path = join(await makeTempFolder(), 'a.jsonl');
  await writeFile(path, textOf(openLineOf(), ...edges(3), { kind: 'close', at: 9 }));
  expect(await readJournalFile(path)).toEqual({
    ok: true,
    journal: {
      open: openLineOf(),
      lines: numbered([...edges(3), { kind: 'close', at: 9 }]),
      isClosed: true,
      skipped: { lines: 0, fields: 0, tornBytes: 0 },
    },
  });
});

test.each([
  ['is empty', '', 'a.jsonl:1: the file is empty: there is no open line'],
  ['holds only NULs', '\0'.repeat(200_000), 'a.jsonl:1: the file is empty: there is no open line'],
  ['is not JSON', 'hello\n', 'a.jsonl:1: the line is not JSON'],
  ['has no open line', textOf(edgeAt(1)), 'a.jsonl:1: kind is not open: a journal begins with its open line'],
  ['has two open lines', textOf(openLineOf(), openLineOf()), 'a.jsonl:2: kind is open a second time'],
  [
    'goes back in time',
    textOf(openLineOf(), edgeAt(2000), edgeAt(1500, false)),
    'a.jsonl:3: at goes back from 2000 to 1500',
  ],
  [
    'has a switch of the other binding',
    textOf(openLineOf(), { ...edgeAt(1), switch: 'A' }),
    'a.jsonl:2: switch is A, which a place binding does not have',
  ],
  [
    'has an empty line amid it',
    `${textOf(openLineOf())}\n${textOf(edgeAt(1))}`,
    'a.jsonl:2: the line is empty',
  ],
  [
    'is of a newer version',
    '{"kind":"open","version":2}\n',
    'a.jsonl:1: version is 2: this journal was made by a newer release and is left untouched',
  ],
  ['is of no version', '{"kind":"open","version":"one"}\n', 'a.jsonl:1: version is not 1'],
  [
    'has a line that is not UTF-8',
    Buffer.concat([
      Buffer.from(textOf(openLineOf())),
      Buffer.from([0xff, 0x0a]),
      Buffer.from(textOf(edgeAt(1))),
    ]),
    'a.jsonl:2: the line is not UTF-8 text',
  ],
  ['is not UTF-8 at all', Buffer.from([0xff, 0xfe, 0x00, 0x0a]), 'a.jsonl:1: the line is not UTF-8 text'],
  [
    'has a line a byte too long',
    `${textOf(openLineOf())}${'x'.repeat(MAX_LINE_BYTES + 1)}\n`,
    `a.jsonl:2: the line is longer than ${MAX_LINE_BYTES} bytes`,
  ],
  [
    'has a line of many NULs',
    `${textOf(openLineOf())}${'\0'.repeat(MAX_LINE_BYTES + 1)}\n${textOf(edgeAt(1))}`,
    `a.jsonl:2: the line is longer than ${MAX_LINE_BYTES} bytes`,
  ],
])('a file that %s is an error that names the line', async (_what, bytes, message) => {
  expect(await messageOf(bytes)).toBe(message);
});

test('a line of just the longest length is read', async () => {
  const note = formatLine({ kind: 'note', at: 1, text: '' });
  const padding = ' '.repeat(MAX_LINE_BYTES - note.length);
  expect(await messageOf(`${textOf(openLineOf())}${note}${padding}\n`)).toBe(null);
});

test('a byte order mark before the first line is no trouble', async () => {
  expect(await messageOf(`\ufeff${textOf(openLineOf(), edgeAt(1))}`)).toBe(null);
});

test('a folder, a missing file and a pipe each have their own words', async () => {
  const folder = await makeTempFolder();
  await mkdir(join(folder, 'folder'));
  expect(await readJournalFile(join(folder, 'folder'))).toMatchObject({
    message: `${folder}/folder:1: this is a folder, not a journal`,
  });
  expect(await readJournalFile(join(folder, 'none'))).toMatchObject({
    message: `${folder}/none:1: there is no such file`,
  });
  expect(await readJournalFile(join(folder, 'none', 'none'))).toMatchObject({
    message: `${folder}/none/none:1: there is no such file`,
  });
  if (process.platform === 'win32') return;
  expect(spawnSync('mkfifo', [join(folder, 'pipe')]).status).toBe(0);
  expect(await readJournalFile(join(folder, 'pipe'))).toMatchObject({
    message: `${folder}/pipe:1: this is not a file`,
  });
});

test.each([
  ['EACCES', 'a.jsonl:1: there is no permission to read it'],
  ['EIO', 'a.jsonl:1: it cannot be read (EIO)'],
])(
  'a disk that answers %s has its own words (a disk of the test: root has every permission)',
  async (code, message) => {
    const refusing: Disk = {
      ...nodeDisk,
      factsOf: async () => ({ kind: 'file', bytes: 1, stamp: '' }),
      read: () => failing(Object.assign(new Error(code), { code })),
    };
    expect(await readJournalFile('a.jsonl', refusing)).toEqual({ ok: false, message, error: null });
  },
);

function failing(error: Error): AsyncIterable<Uint8Array> {
  return { [Symbol.asyncIterator]: () => ({ next: () => Promise.reject(error) }) };
}

test('an endless line is refused before much of it is read', async () => {
  let chunks = 0;
  async function* endless(): AsyncIterable<Uint8Array> {
    yield Buffer.from(textOf(openLineOf()));
    for (;;) {
      chunks += 1;
      yield Buffer.alloc(16_384, 'x');
    }
  }
  const { read } = await scanJournal(endless());
  expect(read).toMatchObject({
    ok: false,
    error: { line: 2, problem: `the line is longer than ${MAX_LINE_BYTES} bytes` },
  });
  expect(chunks).toBe(5);
});

test('endless NULs are refused too', async () => {
  let chunks = 0;
  async function* endless(): AsyncIterable<Uint8Array> {
    for (;;) {
      chunks += 1;
      yield Buffer.alloc(1024 * 1024);
    }
  }
  expect((await scanJournal(endless())).read).toMatchObject({ ok: false, error: { line: 1 } });
  expect(chunks).toBe(17);
});

test('a line of 100 MB on the disk is refused', async () => {
  const path = join(await makeTempFolder(), 'a.jsonl');
  const file = await open(path, 'w');
  const megabyte = Buffer.alloc(1024 * 1024, 'x');
  for (let written = 0; written < 100; written += 1) await file.write(megabyte);
  await file.close();
  expect(await readJournalFile(path)).toMatchObject({
    ok: false,
    message: `${path}:1: the line is longer than ${MAX_LINE_BYTES} bytes`,
  });
});

test('however the bytes are cut into chunks, the journal read is the same', async () => {
  const bytes = Buffer.from(
    `${textOf(openLineOf(), ...edges(4), { kind: 'note', at: 9, text: 'grüß ✓ 🫁' })}{"torn\0\0`,
  );
  const whole = await scanJournal(chunksOf(bytes, []));
  await fc.assert(
    fc.asyncProperty(fc.array(fc.nat(bytes.length), { maxLength: 12 }), async (cuts) => {
      expect(await scanJournal(chunksOf(bytes, cuts))).toEqual(whole);
    }),
  );
  expect(whole).toMatchObject({ goodBytes: bytes.length - 8, totalBytes: bytes.length, endsLine: true });
});

async function* chunksOf(bytes: Uint8Array, cuts: readonly number[]): AsyncIterable<Uint8Array> {
  const at = [0, ...[...cuts].sort((a, b) => a - b), bytes.length];
  for (const [index, from] of at.entries()) yield bytes.subarray(from, at[index + 1] ?? bytes.length);
}

test('no bytes make it crash or hang', async () => {
  const start = Buffer.from(textOf(openLineOf(), edgeAt(1)));
  await fc.assert(
    fc.asyncProperty(fc.uint8Array({ maxLength: 300 }), fc.boolean(), async (soup, isAfterStart) => {
      const bytes = isAfterStart ? Buffer.concat([start, soup]) : soup;
      const { read } = await scanJournal(chunksOf(bytes, []));
      expect(typeof read.ok).toBe('boolean');
    }),
  );
});
