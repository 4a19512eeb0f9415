import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { exported, filesUnder, folderInTheWay, journalText, richDrill, run } from '../../support/exported.ts';
import { makeTempFolder } from '../../support/folder-for-test.ts';

async function drillIn(folder: string): Promise<string> {
  const file = join(folder, 'drill.antiphon.jsonl');
  await writeFile(file, journalText(richDrill()));
  return file;
}

describe('antiphon export', () => {
  it.each([
    [['export'], '--to is one of csv, bids, xapi, not left out'],
    [['export', 'x', '--to', 'pdf'], '--to is one of csv, bids, xapi, not pdf'],
    [['export', '--to', 'csv'], 'name a journal'],
    [['export', 'x', 'y', '--to', 'csv'], 'name one journal'],
    [['export', 'x', '--to', 'csv', '--colour'], 'colour'],
  ])('refuses %j with status 2', async (words, reason) => {
    const { status, out, err } = await run(...words);
    expect([status, out]).toEqual([2, '']);
    expect(err).toContain(reason);
  });

  it.each(['csv', 'bids', 'xapi'])('names a bad journal’s line for %s, and writes nothing', async (to) => {
    const folder = await makeTempFolder();
    await writeFile(join(folder, 'bad.antiphon.jsonl'), 'hello\n\n');
    const out = join(folder, 'out');
    const said = await run('export', join(folder, 'bad.antiphon.jsonl'), '--to', to, '--out', out);
    expect(said).toEqual({
      status: 3,
      out: '',
      err: `${join(folder, 'bad.antiphon.jsonl')}:1: the line is not JSON\n`,
    });
    expect(await filesUnder(out)).toEqual({});
  });

  it('prints xapi where no folder is named, and writes the same into one', async () => {
    const folder = await makeTempFolder();
    const printed = await run('export', await drillIn(folder), '--to', 'xapi');
    expect([printed.status, printed.err, JSON.parse(printed.out).length]).toEqual([0, '', 4]);
    const { files, out } = await exported(richDrill(), '--to', 'xapi');
    expect([files, out]).toEqual([{ 'drill_xapi.json': printed.out }, '']);
  });

  it('gives the same bytes when it is done again', async () => {
    for (const to of ['csv', 'bids', 'xapi'])
      expect((await exported(richDrill(), '--to', to)).files).toEqual(
        (await exported(richDrill(), '--to', to)).files,
      );
  });

  it('writes none of a drill’s files where one of them cannot be written', async () => {
    const folder = await makeTempFolder();
    const file = await drillIn(folder);
    const out = join(folder, 'out');
    await folderInTheWay(join(out, 'drill_cycles.csv'));
    const said = await run('export', file, '--to', 'csv', '--out', out);
    expect(said).toEqual({
      status: 3,
      out: '',
      err: `${join(out, 'drill_cycles.csv')}: this is a folder: nothing was written\n`,
    });
    expect(await filesUnder(out)).toEqual({});
  });
});

describe('--without-names', () => {
  const named = /Zel|Zen/;

  it('names no file after the journal’s, nor leaves a name where a hand put one', async () => {
    const drill = richDrill();
    Object.assign(drill.open, { guideline: 'zelda-style' });
    drill.line({ kind: 'tick', at: 9000, item: 'zeno-smiles', met: true, by: 'instructor' });
    const folder = await makeTempFolder();
    const file = join(folder, 'Zelda.antiphon.jsonl');
    const by = {
      kind: 'signature',
      at: 18_000,
      signedAt: '2026-03-02T10:04:05.000Z',
      person: 'A',
      by: 'Zenobia',
    };
    const signed = `${JSON.stringify({ ...by, standard: 'Zelda’s own', decision: 'met' })}\n`;
    await writeFile(file, `${journalText(drill)}${signed}`);
    for (const words of [
      ...['csv', 'xapi', 'bids'].map((to) => ['export', file, '--to', to]),
      ...['json', 'text', 'csv', 'html'].map((format) => ['score', file, '--format', format]),
    ]) {
      const out = join(folder, words.join('').slice(-12));
      expect((await run(...words, '--without-names', '--out', out)).status).toBe(0);
      expect(JSON.stringify(await filesUnder(out))).not.toMatch(/zel|zen/i);
    }
  });

  it.each(['csv', 'bids', 'xapi'])('leaves nobody’s name and nobody’s words in %s', async (to) => {
    const { status, files } = await exported(richDrill(), '--to', to, '--without-names');
    expect([status, Object.keys(files).length > 0]).toEqual([0, true]);
    for (const text of Object.values(files)) expect(text).not.toMatch(named);
  });

  it.each(['json', 'text', 'csv', 'html'])(
    'does so in the %s of score, and changes nothing else',
    async (format) => {
      const file = await drillIn(await makeTempFolder());
      const words = ['score', file, '--format', format];
      const [withNames, without] = [await run(...words), await run(...words, '--without-names')];
      expect([without.status, without.err]).toEqual([0, '']);
      if (format !== 'csv') expect(withNames.out).toMatch(named);
      expect(without.out).not.toMatch(named);
      if (format !== 'json') return;
      const { drill, ...rest } = JSON.parse(withNames.out);
      drill.file = `drill-${drill.id.slice(0, 8)}.antiphon.jsonl`;
      drill.people.A.name = 'A';
      drill.people.B.name = 'B';
      expect(JSON.parse(without.out)).toEqual({ drill, ...rest });
    },
  );
});
