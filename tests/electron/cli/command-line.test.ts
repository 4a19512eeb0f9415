import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runCommandLine } from '../../../electron/cli/antiphon.ts';
import { formatLine } from '../../../machines/journal.ts';
import { makeTempFolder } from '../../support/folder-for-test.ts';
import { JournalBuilder } from '../../support/journal-builder.ts';

/** A small whole drill: 12 ideal cycles and a finish. */
function drillText(
  builder = new JournalBuilder().call(0, 'begin').ideal(1000, 12).call(25_000, 'finish'),
  closedAt = 25_000,
): string {
  const lines = [
    builder.open,
    ...builder.lines.map(({ line }) => line),
    { kind: 'close' as const, at: closedAt },
  ];
  return lines.map((line) => `${formatLine(line)}\n`).join('');
}

async function run(...words: string[]): Promise<{ status: number; out: string; err: string }> {
  const said = { out: '', err: '' };
  const status = await runCommandLine(words, {
    out: (text) => {
      said.out += text;
    },
    err: (text) => {
      said.err += text;
    },
    isWatched: false,
  });
  return { status, ...said };
}

async function folderWith(files: Record<string, string | Uint8Array>): Promise<(name: string) => string> {
  const folder = await makeTempFolder();
  for (const [name, content] of Object.entries(files)) await writeFile(join(folder, name), content);
  return (name) => join(folder, name);
}

describe('antiphon score', () => {
  it('prints one object for one journal, with the contract’s keys', async () => {
    const at = await folderWith({ 'a.antiphon.jsonl': drillText() });
    const { status, out, err } = await run('score', at('a.antiphon.jsonl'));
    const report = JSON.parse(out);
    expect([status, err]).toEqual([0, '']);
    expect(Object.keys(report)).toEqual([
      'drill',
      'bouts',
      'handovers',
      'checks',
      'ventilationStage',
      'comparisons',
      'warnings',
    ]);
    expect([report.drill.file, report.drill.cycles]).toEqual([
      'a.antiphon.jsonl',
      { total: 11, exact: 11, coordinated: 11 },
    ]);
    expect(report.warnings).toEqual([]);
  });

  it('prints an array for several, and still does the good ones when one is bad', async () => {
    const at = await folderWith({
      'a.antiphon.jsonl': drillText(),
      'b.antiphon.jsonl': 'not json\nat all\n',
    });
    const { status, out, err } = await run('score', at('b.antiphon.jsonl'), at('a.antiphon.jsonl'));
    expect(status).toBe(3);
    expect(err).toBe(`${at('b.antiphon.jsonl')}:1: the line is not JSON\n`);
    expect(JSON.parse(out).map((report: { drill: { file: string } }) => report.drill.file)).toEqual([
      'a.antiphon.jsonl',
    ]);
  });

  it('writes csv with CRLF, a header and one figure a record', async () => {
    const at = await folderWith({ 'a.antiphon.jsonl': drillText() });
    const { out } = await run('score', at('a.antiphon.jsonl'), '--format', 'csv');
    const records = out.split('\r\n');
    expect(records[0]).toBe('file,drill,scope,number,person,role,figure,value,reason');
    expect(records).toContain(
      'a.antiphon.jsonl,7b1f7c1e-6d5a-4d0e-9a44-0c5b7c1d2e3f,drill,,,,compressionsPerMin,90,',
    );
    const drill = 'a.antiphon.jsonl,7b1f7c1e-6d5a-4d0e-9a44-0c5b7c1d2e3f,drill,,,,';
    expect(records).toContain(`${drill}plusMinus.compressionsPerMin,,under 20 cycles`);
    expect(records).toContain(`${drill}switchOffset,,not known`);
    expect(records.at(-1)).toBe('');
    expect(records.slice(0, -1).every((record) => record.split(',').length === 9)).toBe(true);
  });

  it('begins its text with "Timing only:" and ends with the cautions', async () => {
    const at = await folderWith({ 'a.antiphon.jsonl': drillText() });
    const { out } = await run('score', at('a.antiphon.jsonl'), '--format', 'text');
    expect(out).toContain(
      '\nTiming only: 11 of your 11 cycles were three compressions and a breath, each in its place',
    );
    expect(out).toContain('Not a medical device');
    expect(out).toContain('15:2');
    expect(out).toContain('The offset between the two switches is not known');
  });

  it('makes one html file that fetches nothing, with names made safe', async () => {
    const builder = new JournalBuilder({ people: { A: '<script>alert(1)</script>', B: 'Ben & "Co"' } });
    const at = await folderWith({ 'a.antiphon.jsonl': drillText(builder.call(0, 'begin').ideal(1000, 12)) });
    const { status, out } = await run('score', at('a.antiphon.jsonl'), '--format', 'html');
    expect(status).toBe(0);
    expect(out).toContain('<svg class="sheet"');
    expect(out).toContain('&lt;script&gt;alert(1)&lt;/script&gt; compresses');
    expect(out).not.toMatch(/<script|(src|href)=|url\(/);
  });

  it('compares stretches in every format, and says with it which technique is the method of choice', async () => {
    const caution = 'Two-thumb is the method of choice; timing alone cannot compare the techniques.';
    const builder = new JournalBuilder().call(0, 'begin').ideal(1000, 12);
    builder.call(24_600, { call: 'technique', technique: 'two-finger' }).ideal(27_000, 12);
    const at = await folderWith({ 'a.antiphon.jsonl': drillText(builder.call(51_500, 'finish'), 51_500) });
    const of = async (format: string) => (await run('score', at('a.antiphon.jsonl'), '--format', format)).out;
    const { comparisons } = JSON.parse(await of('json'));
    expect(comparisons).toMatchObject([
      {
        of: 'technique',
        sides: [{ value: 'two-thumb' }, { value: 'two-finger' }],
        isByTurns: false,
        coordinatedShare: { difference: 0, verdict: 'these two stretches differ' },
        caution,
      },
    ]);
    const records = (await of('csv')).split('\r\n').filter((record) => record.includes(',comparison,1,,,'));
    expect(records.map((record) => record.split(',,,')[1])).toContain(`caution,${caution},`);
    expect(await of('text')).toContain(
      'Comparisons\n  Two-thumb and two-finger: Ada compresses, foot-end, unled, mask, a stretch each\n    Coordinated: two-thumb 11 of 11 cycles',
    );
    const html = await of('html');
    expect(html).toContain('<caption>Two-thumb and two-finger: Ada compresses');
    expect(html.slice(html.indexOf('<h2>Comparisons'))).toContain(`<p class="notice">${caution}`);
  });

  it('writes one whole file a journal into a folder it makes, and nothing else', async () => {
    const at = await folderWith({ 'a.antiphon.jsonl': drillText(), 'b.antiphon.jsonl': drillText() });
    const out = at('reports');
    expect(
      (await run('score', at('a.antiphon.jsonl'), at('b.antiphon.jsonl'), '--format', 'html', '--out', out))
        .status,
    ).toBe(0);
    expect((await readdir(out)).sort()).toEqual(['a.html', 'b.html']);
    expect(await readFile(join(out, 'a.html'), 'utf8')).toMatch(/^<!doctype html>[\s\S]*<\/html>\n$/);
  });

  it('names the trouble when a folder cannot be written, and leaves no part of a file', async () => {
    const at = await folderWith({
      'a.antiphon.jsonl': drillText(),
      taken: 'a file where the folder should be',
    });
    const { status, err } = await run('score', at('a.antiphon.jsonl'), '--out', at('taken'));
    expect([status, err]).toEqual([
      3,
      `${join(at('taken'), 'a.json')}: a part of this path is a file, not a folder: nothing was written\n`,
    ]);
    expect(await readFile(at('taken'), 'utf8')).toBe('a file where the folder should be');
  });

  it.each([
    [['score'], 'name at least one journal'],
    [['score', 'x', '--format', 'pdf'], '--format is one of json, text, csv, html, not pdf'],
    [['score', 'x', '--colour'], 'colour'],
    [['score', 'x', 'y', '--format', 'html'], 'several journals in html need --out DIR'],
    [['score', 'p/x', 'q/x', '--out', 'd'], 'two journals have the same name'],
    [['rehearse', '--seed', 'one'], '--seed is a whole number from 0, not one'],
    [['rehearse', '--minutes', '0'], 'minutes'],
    [['rehearse', '--plan', 'nine'], '--plan is one of'],
    [
      ['rehearse', '--plan', 'cold-minute', '--minutes', '2'],
      '--minutes does not go with cold-minute, which has its own length',
    ],
    [['rehearse', '--plan', 'whole-sequence'], 'which a rehearsed pair does not play'],
    [['sing'], 'there is no command sing'],
    [[], 'antiphon score FILE'],
  ])('refuses %j with status 2', async (words, reason) => {
    const { status, out, err } = await run(...words);
    expect([status, out]).toEqual([2, '']);
    expect(err).toContain(reason);
  });
});

describe('bad input, each with its own message and status 3', () => {
  const open = drillText().split('\n')[0] ?? '';
  const begin = '{"kind":"call","at":0,"call":"begin"}';
  const cases: [string, string | Uint8Array, string][] = [
    ['an empty file', '', ':1: the file is empty: there is no open line'],
    ['not JSON', 'hello\nworld\n', ':1: the line is not JSON'],
    ['no open line', `${begin}\n`, ':1: kind is not open: a journal begins with its open line'],
    ['an unknown version', open.replace('"version":1', '"version":0'), ':1: version '],
    [
      'a later version',
      open.replace('"version":1', '"version":2'),
      ':1: version is 2: this journal was made by a newer release and is left untouched',
    ],
    [
      'time going backwards',
      `${open}\n{"kind":"call","at":5,"call":"begin"}\n{"kind":"close","at":4}\n`,
      ':3: at goes back from 5 to 4',
    ],
    [
      'an edge for a switch not in the binding',
      `${open}\n{"kind":"edge","at":1,"switch":"A","down":true}\n`,
      ':2: switch is A, which a place binding does not have',
    ],
    ['two opens', `${open}\n${open}\n`, ':2: kind is open a second time'],
    [
      'more than three decimals',
      `${open}\n{"kind":"close","at":1.0005}\n`,
      ':2: at has more than three decimals',
    ],
    ['a 100 MB line', new Uint8Array(100 * 1024 * 1024).fill(97), ':1: '],
    ['bytes that are no text', new Uint8Array([0xff, 0xfe, 0x0a, 0x0a]), ':1: '],
  ];
  it.each(cases)('%s', async (_, content, message) => {
    const at = await folderWith({ 'a.antiphon.jsonl': content });
    const { status, out, err } = await run('score', at('a.antiphon.jsonl'));
    expect([status, out]).toEqual([3, '']);
    expect(err.startsWith(`${at('a.antiphon.jsonl')}${message}`)).toBe(true);
    expect(err.trim().split('\n').length).toBe(1);
  });

  it('a folder, and a file that is not there', async () => {
    const at = await folderWith({});
    await mkdir(at('folder'));
    expect(await run('score', at('folder'), at('nowhere'))).toEqual({
      status: 3,
      out: '',
      err: `${at('folder')}:1: this is a folder, not a journal\n${at('nowhere')}:1: there is no such file\n`,
    });
  });

  it('no close line and a torn last line are no errors: they are said in the report', async () => {
    const at = await folderWith({ 'a.antiphon.jsonl': `${open}\n${begin}\n{"kind":"edge","at":10` });
    const { status, out } = await run('score', at('a.antiphon.jsonl'));
    expect([status, JSON.parse(out).warnings]).toEqual([
      0,
      [
        'no close line: the drill was left open, or is going on',
        'the last line was torn and was passed over',
      ],
    ]);
  });
});

describe('the rig check in every report', () => {
  const rigCheck = {
    outcome: 'passed' as const,
    at: '2026-03-02T09:12:00.000Z',
    techniques: ['two-thumb' as const],
    stances: ['foot-end' as const],
  };
  const sentence = 'Rig checked that day, 2026-03-02 09:12 UTC: two-thumb, foot-end.';

  it.each(['text', 'html', 'csv', 'json'])('is in %s, with its time', async (format) => {
    const builder = new JournalBuilder({ rigCheck }).call(0, 'begin').ideal(1000, 12).call(25_000, 'finish');
    const at = await folderWith({ 'a.antiphon.jsonl': drillText(builder) });
    const { out } = await run('score', at('a.antiphon.jsonl'), '--format', format);
    if (format === 'json') expect(JSON.parse(out).drill.rigCheck).toEqual(rigCheck);
    else if (format === 'csv') {
      expect(
        out
          .split('\r\n')
          .filter((line) => line.includes('rigCheck.'))
          .map((line) => line.split(',').slice(6, 8)),
      ).toEqual([
        ['rigCheck.outcome', 'passed'],
        ['rigCheck.at', '2026-03-02T09:12:00.000Z'],
        ['rigCheck.techniques', 'two-thumb'],
        ['rigCheck.stances', 'foot-end'],
      ]);
    } else expect(out).toContain(sentence);
  });
});

describe('antiphon rehearse', () => {
  it('writes a journal that score reads, the same for the same seed', async () => {
    const at = await folderWith({});
    const first = await run('rehearse', '--seed', '7', '--minutes', '1');
    expect(first).toEqual(await run('rehearse', '--seed', '7', '--minutes', '1'));
    expect(first.out).not.toBe((await run('rehearse', '--seed', '8', '--minutes', '1')).out);
    expect((await run('rehearse', '--seed', '7', '--minutes', '1', '--out', at('a.jsonl'))).status).toBe(0);
    expect(await readFile(at('a.jsonl'), 'utf8')).toBe(first.out);
    const scored = await run('score', at('a.jsonl'));
    expect([scored.status, JSON.parse(scored.out).drill.cycles.total > 20]).toEqual([0, true]);
  });
});
