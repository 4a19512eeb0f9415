import { describe, expect, it } from 'vitest';
import { reportCsv } from '../../electron/exports/report-csv.ts';
import { reportHtml } from '../../electron/exports/report-html.ts';
import { reportText } from '../../electron/exports/report-text.ts';
import { formatLine } from '../../machines/journal.ts';
import { readJournal } from '../../machines/journal-reader.ts';
import { scoreJournal } from '../../machines/replay.ts';
import { JournalBuilder } from '../support/journal-builder.ts';

/** Two inflations, a breath of 1 s at 16 000, a tick, a check with 50, compressions from 50 000, ticks in them. */
function scored() {
  const journal = new JournalBuilder({ guideline: 'uk-european-style' })
    .call(0, { call: 'begin', stage: 'ventilation' })
    .press('airway', 1000, 3500)
    .press('airway', 5000, 6500)
    .press('airway', 16_000, 17_000)
    .line({ kind: 'tick', at: 16_500, item: 'chest-rise', met: true, by: 'instructor' })
    .call(46_000, 'check')
    .call(47_000, { call: 'heart-rate', bpm: 50, given: 'sight' })
    .call(48_000, 'checked')
    .ideal(50_000, 12)
    .line({ kind: 'tick', at: 60_000, item: 'depth', met: false, by: 'observer' })
    .line({ kind: 'tick', at: 61_000, item: 'own-item', met: null, by: 'instructor' });
  journal.call(74_100, 'check').call(75_000, { call: 'heart-rate', bpm: 80 }).call(76_000, 'checked');
  journal.press('airway', 77_000, 78_000).press('airway', 79_000, 80_000).call(90_000, 'finish');
  const text = [journal.open, ...journal.lines.map(({ line }) => line)].map(
    (line) => `${formatLine(line)}\n`,
  );
  const read = readJournal(text.join(''));
  if (!read.ok) throw new Error(read.error.problem);
  return scoreJournal(read.journal);
}

describe('the whole sequence in a file', () => {
  it('has its figures and ticks as CSV, one a record', () => {
    const records = reportCsv('a.jsonl', scored())
      .split('\r\n')
      .map((record) => record.split(',').slice(2))
      .filter(([scope, , , , key]) => scope === 'ventilation' || key?.startsWith('ticks'))
      .map(([scope, number, , , key, value, reason]) => [scope, number, key, value, reason].join(' ').trim());
    expect(records).toEqual([
      'bout 1 ticks.chest-rise.seen met',
      'bout 1 ticks.chest-rise.by instructor',
      'bout 1 ticks.chest-rise.atMs 16500',
      'bout 1 ticks.depth.seen not met',
      'bout 1 ticks.depth.by observer',
      'bout 1 ticks.depth.atMs 60000',
      'bout 1 ticks.own-item.seen not seen',
      'bout 1 ticks.own-item.by instructor',
      'bout 1 ticks.own-item.atMs 61000',
      'ventilation  startMs 1000',
      'ventilation  endMs 50000',
      'ventilation  breaths 3',
      'ventilation  breathsPerMin 8',
      'ventilation  effectiveMs 33500',
      'ventilation  effectiveBy instructor',
      'ventilation  isLongEnough true',
      'ventilation  announcedBpm 50',
      'ventilation  beganUnder60 true',
      'ventilation  announcedToFirstMs 3000',
      'ventilation  firstCheckAfterMs 24100',
      'ventilation  compressionsAfter60 0',
      'ventilation  after60Ms 0',
      'ventilation  inflations.lengthsMs.1 2500',
      'ventilation  inflations.lengthsMs.2 1500',
      'ventilation  inflations.lengthsMs.3 1000',
      'ventilation  inflations.inRange 1',
      'ventilation  inflations.breathsPerMinAfter  under two breaths',
      'ventilation  backToVentilation.1.startMs 76000',
      'ventilation  backToVentilation.1.endMs  no compression after it',
      'ventilation  backToVentilation.1.breaths 2',
      'ventilation  backToVentilation.1.breathsPerMin 30',
    ]);
  });

  it.each([
    ['text', reportText],
    ['html', reportHtml],
  ])('says all of it in words as %s', (_, report) => {
    const words = report('a.jsonl', scored());
    for (const said of [
      'Ventilation before compressions',
      '1 of 3: 2.5, 1.5, 1.0 s',
      'guideline',
      'none but the triplet’s rest',
      'Chest rises: met',
      'Depth about one third: not met (an observer’s tick)',
      'Full release: not ticked',
      'own-item: not seen',
      'No praise for timing here',
      '1:16 to the end: 2 breaths, 30 a minute',
    ])
      expect(words).toContain(said);
  });

  it('says nothing of ticks or ventilation where there can be none', () => {
    const { open, lines } = new JournalBuilder({ rig: 'rhythm' }).call(0, 'begin').ideal(1000, 3);
    const read = readJournal(
      [open, ...lines.map(({ line }) => line)].map((line) => `${formatLine(line)}\n`).join(''),
    );
    if (!read.ok) throw new Error(read.error.problem);
    const words =
      reportText('a.jsonl', scoreJournal(read.journal)) + reportHtml('a.jsonl', scoreJournal(read.journal));
    expect(words).not.toContain('What was seen');
    expect(words).not.toContain('Ventilation before');
    expect(words).not.toContain('Ask your instructor to watch');
  });

  it('has the advice after the headline, in text and as a page, and not in the figures', () => {
    const drill = scored();
    const headline = 'Timing only: ';
    for (const words of [reportText('a.jsonl', drill), reportHtml('a.jsonl', drill)]) {
      const [before, after] = words.split('One thing to try');
      expect(before).toContain(headline);
      expect(after).toContain(
        'Your instructor saw the chest rise; your observer did not see a depth of about one third',
      );
      expect(after).toContain('Only eleven cycles were completed: too little to say.');
    }
    expect(Object.keys(drill.report)).toEqual([
      'drill',
      'bouts',
      'handovers',
      'checks',
      'ventilationStage',
      'comparisons',
      'warnings',
    ]);
  });
});
