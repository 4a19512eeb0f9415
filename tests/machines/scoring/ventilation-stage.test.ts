import { describe, expect, it } from 'vitest';
import type { OpenLine } from '../../../machines/journal.ts';
import { JournalBuilder } from '../../support/journal-builder.ts';

/** Ventilation before compressions. Times in ms, worked by hand beside each expectation. */
const begun = (over: Partial<OpenLine> = {}) =>
  new JournalBuilder(over).call(0, { call: 'begin', stage: 'ventilation' });
/** Breaths of 800 ms, one every 1500 ms: 40 a minute. */
const breaths = (journal: JournalBuilder, from: number, count: number) => {
  for (let one = 0; one < count; one += 1)
    journal.press('airway', from + 1500 * one, from + 1500 * one + 800);
  return journal;
};
const tick = (
  journal: JournalBuilder,
  at: number,
  met: boolean | null,
  by: 'instructor' | 'observer' = 'instructor',
) => journal.line({ kind: 'tick', at, item: 'chest-rise', met, by });
const rate = (journal: JournalBuilder, at: number, bpm: number) =>
  journal.call(at, { call: 'heart-rate', bpm });
const stageOf = (journal: JournalBuilder) => {
  const stage = journal.report().ventilationStage;
  if (stage === null) throw new Error('there is no ventilation stage');
  return stage;
};
const no = (reason: string) => ({ value: null, reason });

/** Breaths from 2000, the chest seen to rise at 4000, a check with a rate of 50 at 36 000, compressions from 38 000. */
const whole = () => {
  const journal = tick(breaths(begun(), 2000, 22), 4000, true);
  rate(journal.call(35_000, 'check'), 36_000, 50).call(37_000, 'checked');
  return journal.ideal(38_000, 30);
};

describe('a drill that begins with ventilation', () => {
  it('has its figures', () => {
    // 22 breaths from 2000 to 33 500: 21 × 60 000 ÷ 31 500 = 40. Effective 38 000 − 4000. Cycles end at 98 000.
    const journal = rate(whole().call(98_000, 'check'), 99_000, 70).call(100_000, 'checked');
    expect(stageOf(breaths(journal, 101_000, 3).call(110_000, 'finish'))).toEqual({
      startMs: 2000,
      endMs: 38_000,
      breaths: 22,
      breathsPerMin: 40,
      effectiveMs: 34_000,
      effectiveBy: 'instructor',
      isLongEnough: true,
      beganUnder60: true,
      announcedBpm: 50,
      announcedToFirstMs: 2000,
      firstCheckAfterMs: 60_000,
      compressionsAfter60: 0,
      after60Ms: 0,
      inflations: null,
      backToVentilation: [
        { startMs: 100_000, endMs: no('no compression after it'), breaths: 3, breathsPerMin: 40 },
      ],
    });
  });
  it('is nothing in a drill that begins with compressions', () => {
    expect(new JournalBuilder().call(0, 'begin').ideal(1000, 2).report().ventilationStage).toBe(null);
  });
  it('does not begin with ventilation because of a begin that is ignored', () => {
    const journal = new JournalBuilder().call(0, 'begin').call(10, { call: 'begin', stage: 'ventilation' });
    expect(journal.ideal(1000, 1).report().ventilationStage).toBe(null);
  });
  it('with no breath, or one, says so', () => {
    const none = stageOf(tick(begun(), 500, true).ideal(1000, 1));
    expect([none.startMs, none.breathsPerMin, none.effectiveMs]).toEqual([
      no('no breath'),
      no('under two breaths'),
      no('no breath'),
    ]);
    const one = stageOf(breaths(begun(), 500, 1).ideal(2000, 1));
    expect([one.startMs, one.breaths, one.breathsPerMin]).toEqual([500, 1, no('under two breaths')]);
  });
  it('of two breaths at one time has no rate', () => {
    const journal = begun().press('airway', 500, 500).press('airway', 500, 900);
    expect(stageOf(journal).breathsPerMin).toEqual(no('no time between them'));
  });
});

describe('effective ventilation', () => {
  const from = (journal: JournalBuilder) => stageOf(journal.ideal(40_000, 1)).effectiveMs;
  it('is not judged without a tick, nor where the chest was not seen', () => {
    expect(from(breaths(begun(), 1000, 20))).toEqual(no('not judged'));
    expect(from(tick(breaths(begun(), 1000, 20), 5000, null))).toEqual(no('not judged'));
  });
  it('says that the chest did not rise, when that was ticked last', () => {
    expect(from(tick(tick(breaths(begun(), 1000, 20), 5000, true), 9000, false))).toEqual(
      no('the chest was seen not to rise'),
    );
  });
  it('begins anew after a tick against it', () => {
    // 40 000 − 12 000; the second tick of the same changes nothing.
    const journal = tick(tick(breaths(begun(), 1000, 20), 5000, true), 9000, false);
    expect(from(tick(tick(journal, 12_000, true), 15_000, true))).toBe(28_000);
  });
  it('cannot begin before the first breath', () => {
    expect(from(tick(breaths(begun(), 6000, 20), 3000, true))).toBe(34_000);
  });
  it('of 30 s is enough, and a microsecond less is not', () => {
    const at = (ms: number) =>
      stageOf(tick(breaths(begun(), 1000, 20), ms, true).ideal(40_000, 1)).isLongEnough;
    expect([at(10_000), at(10_000.001)]).toEqual([true, false]);
  });
  it('lasts to the last release when no compression comes', () => {
    // Breaths at 1000, 2500, 4000: released 4800.
    const stage = stageOf(tick(breaths(begun(), 1000, 3), 2000, true).call(9000, 'finish'));
    expect([stage.effectiveMs, stage.endMs]).toEqual([2800, no('no compression')]);
  });
  it('ignores a tick after the first compression', () => {
    expect(from(tick(breaths(begun(), 1000, 20), 40_001, true))).toEqual(no('not judged'));
  });
  it('takes line order where the times are the same', () => {
    const before = tick(breaths(begun(), 1000, 20), 40_000, true).ideal(40_000, 1);
    const after = tick(breaths(begun(), 1000, 20).ideal(40_000, 1), 40_000, true);
    expect([stageOf(before).effectiveMs, stageOf(after).effectiveMs]).toEqual([0, no('not judged')]);
  });
  it('says that an observer ticked it', () => {
    expect(stageOf(tick(breaths(begun(), 1000, 5), 2000, true, 'observer').ideal(9000, 1)).effectiveBy).toBe(
      'observer',
    );
  });
  it('is not judged on a rhythm rig, which has no ticks', () => {
    expect(from(tick(breaths(begun({ rig: 'rhythm' }), 1000, 20), 2000, true))).toEqual(
      no('not judged: a rhythm rig has no ticks'),
    );
  });
});

describe('the heart rate', () => {
  it('that was announced last decides, and an undone announcement does not', () => {
    const journal = rate(breaths(begun(), 1000, 5), 9000, 50);
    expect(stageOf(rate(journal, 9500, 60).ideal(10_000, 1))).toMatchObject({
      beganUnder60: false,
      announcedToFirstMs: no('60 or more was the last announced'),
    });
    expect(stageOf(journal.call(9600, 'undo'))).toMatchObject({
      beganUnder60: true,
      announcedToFirstMs: 1000,
    });
  });
  it('of 59 is under 60, and none at all is said to be none', () => {
    expect(stageOf(rate(begun(), 500, 59).ideal(1000, 1)).beganUnder60).toBe(true);
    expect(stageOf(begun().ideal(1000, 1)).beganUnder60).toEqual(no('no heart rate was announced before it'));
  });
});

describe('compressions after 60 or more was announced', () => {
  const announced = (at: number, bpm = 60) => {
    const stage = stageOf(rate(begun().ideal(1000, 3), at, bpm));
    return [stage.compressionsAfter60, stage.after60Ms];
  };
  it('are none when only the triplet is finished', () => {
    // The last triplet: 5000, 5500, 6000.
    expect(announced(5200)).toEqual([0, 0]);
    expect(announced(5600)).toEqual([0, 0]);
    expect(announced(6100)).toEqual([0, 0]);
  });
  it('count from the next triplet on, over the time from the announcement', () => {
    // Announced 3200, inside 3000, 3500, 4000; then 5000, 5500, 6000: over 6000 − 3200.
    expect(announced(3200)).toEqual([3, 2800]);
    // Announced between triplets, at the breath of 4500 to 4900.
    expect(announced(4600)).toEqual([3, 1400]);
  });
  it('are not known while nobody announced 60 or more', () => {
    expect(announced(3200, 59)).toEqual([
      no('60 or more was not announced'),
      no('60 or more was not announced'),
    ]);
  });
  it('end when a rate under 60 is announced', () => {
    // After 3200: 5000 counts; from 5200 on compressions are called for again.
    const journal = rate(rate(begun().ideal(1000, 3), 3200, 80), 5200, 50);
    expect([stageOf(journal).compressionsAfter60, stageOf(journal).after60Ms]).toEqual([1, 1800]);
  });
  it('count at once after a check: nothing was left to finish', () => {
    const journal = rate(begun().ideal(1000, 1).call(3000, 'check'), 3500, 80).call(4000, 'checked');
    expect([stageOf(journal.ideal(6000, 1)).compressionsAfter60, stageOf(journal).after60Ms]).toEqual([
      3, 1000,
    ]);
  });
});

describe('back to ventilation', () => {
  it('lasts from checked to the next compression, breaths in a later check included', () => {
    const journal = rate(begun().ideal(1000, 1).call(3000, 'check'), 3500, 80).call(4000, 'checked');
    breaths(journal, 5000, 4).call(8000, 'check');
    rate(journal, 9000, 50).call(10_000, 'checked').ideal(12_000, 1);
    // Breaths at 5000, 6500, 8000, 9500.
    expect(stageOf(journal).backToVentilation).toEqual([
      { startMs: 4000, endMs: 12_000, breaths: 4, breathsPerMin: 40 },
    ]);
  });
  it('is not there after a check with a rate under 60, nor before the first compression', () => {
    const under = rate(begun().ideal(1000, 1).call(3000, 'check'), 3500, 50).call(4000, 'checked');
    const before = rate(begun().call(3000, 'check'), 3500, 80).call(4000, 'checked').ideal(5000, 1);
    expect([stageOf(under).backToVentilation, stageOf(before).backToVentilation]).toEqual([[], []]);
  });
});

describe('UK-style inflations', () => {
  const uk = { guideline: 'uk-european-style' } as const;
  it('are the first five breaths, with how many were 2 to 3 s long', () => {
    const journal = begun(uk);
    for (const [index, length] of [2000, 1999.999, 3000, 3000.001, 2500, 1000, 1000].entries())
      journal.press('airway', 1000 + 4000 * index, 1000 + 4000 * index + length);
    // The two after them: 4000 apart.
    expect(stageOf(journal).inflations).toEqual({
      lengthsMs: [2000, 1999.999, 3000, 3000.001, 2500],
      inRange: 3,
      breathsPerMinAfter: 15,
    });
  });
  it('have no length where the release was not seen', () => {
    expect(stageOf(begun(uk).down('airway', 1000).up('airway', 3500, true)).inflations).toEqual({
      lengthsMs: [no('its release was not seen')],
      inRange: 0,
      breathsPerMinAfter: no('under two breaths'),
    });
    expect(stageOf(begun(uk)).inflations?.inRange).toEqual(no('no breath'));
  });
});
