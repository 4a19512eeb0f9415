import { describe, expect, it } from 'vitest';
import { replay } from '../../../machines/replay.ts';
import { adviceOf } from '../../../machines/scoring/advice.ts';
import { boutRowsOf, reportOf } from '../../../machines/scoring/report.ts';
import { adviceSentences } from '../../../machines/words/advice-words.ts';
import { headlineOf } from '../../../machines/words/headline.ts';
import { JournalBuilder } from '../../support/journal-builder.ts';

type Given = { breaths?: number; bpm?: number; rise?: boolean | null; riseAt?: number };

/** Breaths 1.5 s apart from 1 s on, the chest seen to rise or not, a heart rate at 40 s, and no compression. */
function said({ breaths = 20, bpm, rise = null, riseAt = 1500 }: Given) {
  const builder = new JournalBuilder().call(0, { call: 'begin', stage: 'ventilation' });
  for (let k = 0; k < breaths; k += 1) builder.press('airway', 1000 + 1500 * k, 1500 + 1500 * k);
  if (rise !== null)
    builder.line({ kind: 'tick', at: riseAt, item: 'chest-rise', met: rise, by: 'instructor' });
  if (bpm !== undefined) builder.call(40_000, { call: 'heart-rate', bpm });
  const fold = replay(builder.open, builder.call(41_000, 'finish').lines);
  const [report, rows] = [reportOf(fold), boutRowsOf(fold)];
  const { next, people } = adviceSentences(adviceOf(report, rows, fold), { A: 'Ada', B: 'Ben' });
  return { headline: headlineOf(report, rows), next, people };
}

describe('a drill of ventilation alone', () => {
  it('after which no compression was wanted has a headline, and a next step', () => {
    expect(said({ bpm: 110, rise: true })).toEqual({
      headline:
        'Timing only: ventilation alone, 20 breaths, 40 a minute, and no compression. The last heart rate announced was 110, so that none was wanted.',
      next: 'Once more from the start, and this time with a heart rate that calls for compressions.',
      people: [],
    });
  });
  it.each<[Given, string, string]>([
    [
      { rise: true, breaths: 30 },
      'No heart rate was announced.',
      'Ventilate once more, and ask for the heart rate after 30 s.',
    ],
    [
      { bpm: 50, rise: true, breaths: 30 },
      'The last heart rate announced was 50: after 30 s of effective ventilation, compressions are wanted under 60.',
      'Once more from the start, and compress when under 60 is announced.',
    ],
    [
      { bpm: 50, rise: true, riseAt: 20_000 },
      'The last heart rate announced was 50: after 30 s of effective ventilation, compressions are wanted under 60.',
      'Once more, with 30 s of effective ventilation before the heart rate is asked for.',
    ],
    [
      { bpm: 110 },
      'The last heart rate announced was 110, so that none was wanted.',
      'Ventilate once more for 30 s, with your instructor watching the chest rise.',
    ],
    [
      { bpm: 110, rise: false },
      'The last heart rate announced was 110, so that none was wanted.',
      'Ventilate once more, and put right what keeps the chest from rising before anything else.',
    ],
  ])('%j: what was announced, and what comes next', (given, announced, next) => {
    const { headline, next: told } = said(given);
    expect(headline).toMatch(/^Timing only: ventilation alone, /);
    expect([headline.endsWith(announced), told]).toEqual([true, next]);
  });
  it('without a breath has nothing to report', () => {
    expect(said({ breaths: 0 })).toMatchObject({
      headline: 'Timing only: no compression was registered after begin, so there is nothing to report.',
      next: 'No cycle was completed: too little to say. Do two more minutes, then look again.',
    });
  });
});
