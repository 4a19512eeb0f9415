import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { nodeDisk } from '../../electron/disk.ts';
import { recoverJournal } from '../../electron/journal-recovery.ts';
import type { BodyLine } from '../../machines/journal.ts';
import { edgeAt, openLineOf, textOf } from '../support/drills.ts';
import { makeTempFolder } from '../support/folder-for-test.ts';
import { ForgetfulDisk } from '../support/forgetful-disk.ts';

const WHOLE = textOf(openLineOf(), edgeAt(1000.2), edgeAt(1190.7, false), {
  kind: 'note',
  at: 2000,
  text: 'grüß dich ✓',
});

/** What is in the file after it was opened again, and the lines that were read. */
async function reopen(bytes: Uint8Array | string): Promise<{ after: Buffer; lines: BodyLine[] | string }> {
  const path = join(await makeTempFolder(), 'a.antiphon.jsonl');
  await writeFile(path, bytes);
  const { read } = await recoverJournal(nodeDisk, path);
  const lines = read.ok
    ? read.journal.lines.map(({ line }) => line)
    : `${read.error.line} ${read.error.problem}`;
  return { after: await readFile(path), lines };
}

test('a tail torn at any byte is cut off and kept in a recovered line; no whole line is lost', async () => {
  const bytes = Buffer.from(WHOLE);
  const lineEnds = [...bytes.entries()].filter(([, byte]) => byte === 0x0a).map(([index]) => index);
  const [openEnd = 0] = lineEnds;
  for (let length = openEnd; length <= bytes.length; length += 1) {
    const torn = bytes.subarray(0, length);
    const { after, lines } = await reopen(torn);
    const wholeLines = lineEnds.filter((end) => end <= length);
    const goodEnd = (wholeLines.at(-1) ?? 0) + 1;
    const expected = textOf(...tornEnd(torn, Math.min(goodEnd, length)));
    expect(after.toString(), `torn at ${length}`).toBe(`${bytes.subarray(0, goodEnd).toString()}${expected}`);
    expect(Array.isArray(lines) && lines.length).toBe(wholeLines.length - 1 + (expected === '' ? 0 : 1));
  }
});

function tornEnd(torn: Buffer, goodEnd: number): BodyLine[] {
  const cut = torn.subarray(goodEnd);
  if (cut.length === 0) return [];
  const times = [0, 1000.2, 1190.7, 2000];
  const lines = torn.subarray(0, goodEnd).toString().split('\n').length - 1;
  return [
    { kind: 'recovered', at: times[lines - 1] ?? 0, bytes: cut.length, text: new TextDecoder().decode(cut) },
  ];
}

test('opening again a second time changes nothing more', async () => {
  const first = await reopen(WHOLE.slice(0, -20));
  const second = await reopen(first.after);
  expect(second.after.equals(first.after)).toBe(true);
  expect(second.lines).toEqual(first.lines);
});

test.each([
  ['NULs after a whole line', `${textOf(openLineOf(), edgeAt(5))}\0\0\0\0`, 4, ''],
  ['NULs after a torn line', `${textOf(openLineOf(), edgeAt(5))}{"kind":"ed\0\0`, 13, '{"kind":"ed'],
  ['NULs in a torn line', `${textOf(openLineOf(), edgeAt(5))}{"ki\0\0":\n`, 9, '{"ki\0\0":'],
  ['an empty last line', `${textOf(openLineOf(), edgeAt(5))}\n`, 1, ''],
])('%s are cut off', async (_what, text, bytes, kept) => {
  const { after } = await reopen(text);
  const recovered = { kind: 'recovered', at: 5, bytes, text: kept } as const;
  expect(after.toString()).toBe(textOf(openLineOf(), edgeAt(5), recovered));
});

test('a torn character is cut off with its line', async () => {
  const whole = Buffer.from(textOf(openLineOf()));
  const torn = Buffer.from('{"kind":"note","at":1,"text":"gr\u00fc');
  const { after } = await reopen(Buffer.concat([whole, torn.subarray(0, torn.length - 1)]));
  const recovered = {
    kind: 'recovered',
    at: 0,
    bytes: torn.length - 1,
    text: '{"kind":"note","at":1,"text":"gr\ufffd',
  } as const;
  expect(after.toString()).toBe(textOf(openLineOf(), recovered));
});

test('a whole last line without its newline counts and gets one', async () => {
  const { after, lines } = await reopen(textOf(openLineOf(), edgeAt(5)).slice(0, -1));
  expect(after.toString()).toBe(textOf(openLineOf(), edgeAt(5)));
  expect(lines).toEqual([edgeAt(5)]);
});

test('a whole last line without its newline and NULs after it counts', async () => {
  const { after } = await reopen(`${textOf(openLineOf(), edgeAt(5)).slice(0, -1)}\0\0`);
  expect(after.toString()).toBe(
    textOf(openLineOf(), edgeAt(5), { kind: 'recovered', at: 5, bytes: 2, text: '' }),
  );
});

test('a journal that was closed is mended too, since remarks may follow', async () => {
  const close = { kind: 'close', at: 5 } as const;
  const { after, lines } = await reopen(`${textOf(openLineOf(), close)}{"kind":"ma\0\0`);
  const recovered = { kind: 'recovered', at: 5, bytes: 13, text: '{"kind":"ma' } as const;
  expect(after.toString()).toBe(textOf(openLineOf(), close, recovered));
  expect(lines).toEqual([close, recovered]);
});

test.each([
  [
    'a bad line that is not the last',
    `${textOf(openLineOf())}{"kind":\n${textOf(edgeAt(5))}`,
    '2 the line is not JSON',
  ],
  ['a bad line before a torn one', `${textOf(openLineOf())}{"kind":\n{"kind"`, '2 the line is not JSON'],
  [
    'a last line that is JSON but wrong',
    `${textOf(openLineOf(), edgeAt(5))}${textOf(edgeAt(4))}`,
    '3 goes back from 5 to 4',
  ],
  ['a torn open line', textOf(openLineOf()).slice(0, 40), '1 the line is not JSON'],
  [
    'a newer version',
    `{"kind":"open","version":2}\n{"torn`,
    '1 is 2: this journal was made by a newer release and is left untouched',
  ],
  ['nothing', '', '1 the file is empty: there is no open line'],
])('%s is an error, and the file stays byte for byte', async (_what, text, message) => {
  const { after, lines } = await reopen(text);
  expect(lines).toBe(message);
  expect(after.toString()).toBe(text);
});

test('lines with CR before their newline are read, and the file stays as it is', async () => {
  const text = textOf(openLineOf(), edgeAt(5)).replaceAll('\n', '\r\n');
  const { after, lines } = await reopen(text);
  expect(lines).toEqual([edgeAt(5)]);
  expect(after.toString()).toBe(text);
});

test('a journal that may not be mended is read as it is', async () => {
  const disk = new ForgetfulDisk();
  const file = await disk.create('/a');
  await file.write(Buffer.from(`${textOf(openLineOf(), edgeAt(5))}{"torn`), 0);
  disk.failures.set('mend', ['EROFS']);
  const { read } = await recoverJournal(disk, '/a');
  expect(read.ok && [read.journal.lines.length, read.journal.skipped.tornBytes]).toEqual([1, 6]);
});
