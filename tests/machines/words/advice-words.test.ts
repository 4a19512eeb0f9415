import { describe, expect, it } from 'vitest';
import type { BodyLine, TickLine } from '../../../machines/journal.ts';
import { adviceSentences } from '../../../machines/words/advice-words.ts';
import { adviceFor, adviceOfLines, allMet, everyFifth, GOOD_PAIR } from '../../support/advised-pair.ts';
import { JournalBuilder, openLine } from '../../support/journal-builder.ts';

const NAMES = { A: 'Ada', B: 'Ben' };
const say = (...args: Parameters<typeof adviceFor>) => adviceSentences(adviceFor(...args), NAMES);
const DRILL = { ...GOOD_PAIR, seed: 5, minutes: 2, plan: 'two-minutes-and-swap' } as const;
const tick = (
  at: number,
  item: string,
  met: boolean | null,
  by: TickLine['by'] = 'instructor',
): TickLine => ({
  kind: 'tick',
  at,
  item,
  met,
  by,
});
/** In the first minute and in the second, after the swap. */
const MET_TWICE = [...allMet(10_000), ...allMet(90_000)];

describe('what was ticked comes first', () => {
  it('what was not met, by whom, before the timing', () => {
    const { tick: said } = say(DRILL, [
      ...allMet(10_000),
      ...allMet(90_000),
      tick(100_000, 'full-release', false),
    ]);
    expect(said?.text).toBe(
      'Your instructor saw the chest rise, a depth of about one third and the thumbs in place, but not full release (Ben on the chest); put that right before anything the switches say.',
    );
  });
  it('not what the same person has put right since, in the same technique', () => {
    const six = [10_000, 30_000, 50_000, 70_000, 90_000, 110_000].flatMap(allMet);
    const said = (at: number) => {
      const lines = [...six, tick(at, 'full-release', false)];
      return say({ ...DRILL, plan: 'techniques' }, lines).tick?.text;
    };
    expect(said(12_000)).toBeUndefined();
    expect(said(112_000)).toContain('but not full release (Ada on the chest)');
  });
  it('nor of the bag, in any technique', () => {
    const twelve = [10_000, 30_000, 50_000, 70_000, 90_000, 110_000].flatMap(allMet);
    const lines = [...twelve, tick(12_000, 'chest-rise', false)].filter(
      ({ item, at }) => item !== 'chest-rise' || at <= 30_000,
    );
    const { tick: said } = say({ ...DRILL, plan: 'techniques' }, lines);
    expect(said?.text).toMatch(/^Ask your instructor to watch the chest rise/);
  });
  it('still what only the other has met since', () => {
    const lines = MET_TWICE.filter(({ item, at }) => item !== 'full-release' || at > 60_000);
    lines.push(tick(20_000, 'full-release', false, 'observer'));
    expect(say(DRILL, lines).tick?.text).toMatch(
      /^Your instructor saw .* in place; your observer did not see full release \(Ada on the chest\);/,
    );
    expect(say(DRILL, lines).tick?.text).toContain('(Ada on the chest)');
  });
  it('and names who saw what: an observer’s ticks are not the instructor’s', () => {
    const lines = [...MET_TWICE].map(
      (line): TickLine => (line.item === 'chest-rise' ? { ...line, by: 'observer' } : line),
    );
    expect(say(DRILL, [...lines, tick(100_000, 'full-release', false)]).tick?.text).toBe(
      'Your observer saw the chest rise; your instructor saw a depth of about one third and the thumbs in place, but not full release (Ben on the chest); put that right before anything the switches say.',
    );
  });
  it('nor does an observer’s later tick make up for the instructor’s in the same bout', () => {
    const lines = [...MET_TWICE, tick(20_000, 'full-release', false)];
    const { tick: said, praise } = say(DRILL, [...lines, tick(30_000, 'full-release', true, 'observer')]);
    expect(said?.text).toContain('but not full release (Ada on the chest)');
    expect(praise.map(({ text }) => text)).not.toContainEqual(expect.stringMatching(/^Ada, on the chest/));
  });
  it('then what nobody saw', () => {
    const lines = MET_TWICE.filter(({ item, at }) => item !== 'depth' || at < 60_000);
    expect(say(DRILL, lines).tick?.text).toBe(
      'Ask your instructor to watch a depth of about one third: no switch can know, and it comes before the timing.',
    );
  });
  it('and what to do next is about that, where the timing has nothing to try', () => {
    const next = (...lines: BodyLine[]) => say({ ...DRILL, plan: 'steady' }, lines).next;
    expect(next(...MET_TWICE, tick(90_001, 'depth', false))).toBe(
      'Do two more minutes now, and put right what was seen.',
    );
    expect(next()).toBe('Do two more minutes now, with your instructor watching.');
    expect(next(...MET_TWICE)).toBe('Do two more minutes, and see if it lasts.');
  });
  it('nothing on a rhythm rig', () => {
    const rhythm = say({ ...DRILL, rig: 'rhythm' });
    expect([rhythm.tick, rhythm.praise]).toEqual([null, []]);
  });
});

describe('one sentence each', () => {
  it('says who, in which role, what was seen and what to try, without a millisecond', () => {
    const { people, next } = say(
      { ...DRILL, planted: everyFifth('early-breath'), plan: 'steady' },
      MET_TWICE,
    );
    expect(people.map(({ text }) => text)).toEqual([
      'Ada: in the timing nothing stands out to be changed.',
      'Ben, on the bag: in twelve cycles you squeezed before the third compression was let up; wait for the word ‘breathe’, squeeze until the chest just rises, let go.',
    ]);
    expect(people[1]?.figures).toBe(
      '12 of 59 cycles (11 to 33 %, exact 95 %); at 0:07, 0:17, 0:27, 0:37, 0:47, 0:57 and 6 more',
    );
    expect(next).toBe('Do two more minutes now, one thing each.');
  });
  it('calls up to 200 ms a little, and gives a pace as 90 is given', () => {
    const told = (model: object, who: 'A' | 'B') =>
      say({
        ...DRILL,
        plan: 'steady',
        pair: { ...GOOD_PAIR.pair, [who]: { ...GOOD_PAIR.pair[who], ...model } },
      }).people[who === 'A' ? 0 : 1]?.text;
    expect(told({ breathAheadMs: -150 }, 'B')).toMatch(
      /^Ben, on the bag: your breath mostly came a little early;/,
    );
    expect(told({ breathAheadMs: -260, chestPressShare: 0.2 }, 'B')).toMatch(
      /your breath mostly came early;/,
    );
    expect(told({ paceOffPct: -12 }, 'A')).toMatch(
      /^Ada, on the chest: you ran at the pace of about 103 a minute against 90;/,
    );
  });
  it('says of one who compressed at a slower tempo alone that the pace was not judged', () => {
    const { people } = say({ ...DRILL, plan: 'steady', cycleMs: 3000 });
    expect(people.map(({ text }) => text)).toEqual([
      'Ada: in the timing nothing stands out to be changed, though at a slower tempo no pace is judged.',
      'Ben: in the timing nothing stands out to be changed.',
    ]);
  });
  it('of twenty seconds says that it is too little, and what to do', () => {
    const { people, praise, next } = say({ ...DRILL, plan: 'steady', minutes: 1 / 3 }, allMet(5000));
    expect([people, praise]).toEqual([[], []]);
    expect(next).toBe(
      'Only nine cycles were completed: too little to say. Do two more minutes, then look again.',
    );
  });
});

describe('the pair', () => {
  it('is told of a long handover', () => {
    const { pair } = say({ ...DRILL, handovers: { kinds: ['slow'], slowPauseMs: 6000, pauseSigma: 0.01 } });
    expect(pair?.text).toBe(
      'At the swap the baby had no compressions for 6 seconds and no breath for 7 seconds; say ‘swap after this breath’, and restart on ‘one’.',
    );
    expect(pair?.figures).toContain('swap called:');
    expect(pair?.rows).toHaveLength(1);
  });
  const swapped = (restartMs: number, chestFrom: number) => {
    const drill = new JournalBuilder().call(0, 'begin').ideal(1000, 20);
    drill.call(40_500, 'swap').call(40_900, 'taken');
    for (let at = chestFrom; at < restartMs; at += 500) drill.press('chest', at, at + 200);
    drill.ideal(restartMs, 20).cycle([restartMs + 40_000], null);
    const lines = [...drill.lines.map(({ line }) => line), ...allMet(1500), ...allMet(restartMs + 5000)];
    return adviceSentences(adviceOfLines(drill.open, lines), NAMES);
  };
  it('is told of a gap between breaths alone where the compressions went on', () => {
    expect(swapped(48_000, 40_600).pair?.text).toBe(
      'At the swap the baby had no breath for 9 seconds; say ‘swap after this breath’, and restart on ‘one’.',
    );
  });
  it('is praised for a time that was not exceeded', () => {
    // From 40.2 s on the chest is let up: 2.4 s.
    expect(swapped(42_600, 42_600).praise.at(-1)?.text).toBe(
      'Both: at the swap compressions were back within 3 seconds, and the first cycle was right.',
    );
  });
  it('is told when the order is lost once the count fell silent, and that it was kept when it was', () => {
    const builder = (isLost: boolean) => {
      const drill = new JournalBuilder({ guidance: 'led' }).call(0, 'begin').ideal(1000, 20);
      drill.call(40_900, { call: 'guidance', guidance: 'unled' });
      for (let k = 0; k < 20; k += 1) {
        const at = 41_000 + 2000 * k;
        drill.cycle([at, at + 500, at + 1000], isLost && k % 2 === 0 ? at + 1100 : at + 1500);
      }
      const given: BodyLine = {
        kind: 'count',
        at: 500,
        what: 'given',
        by: 'sound',
        fromMs: 1000,
        beat: 'one',
        cycleMs: 2000,
        outputLatencyMs: null,
        errorMs: null,
      };
      const stopped: BodyLine = { kind: 'count', at: 40_900, what: 'stopped', lastMs: 40_500 };
      drill.cycle([81_000], null).line(given).line(stopped);
      return adviceSentences(
        adviceOfLines(
          drill.open,
          drill.lines.map(({ line }) => line),
        ),
        NAMES,
      );
    };
    expect(builder(true).pair?.text).toMatch(
      /^Once the count fell silent the order of three and one was lost/,
    );
    expect(builder(false).pair).toBeNull();
    expect(builder(false).headline?.text).toBe('With the count off you kept the order in 20 of 20 cycles.');
    expect(builder(true).headline).toBeNull();
  });
});

describe('praise', () => {
  it('is for what stood in four of five cycles and more, where the four ticks are met', () => {
    expect(say(DRILL, MET_TWICE).praise.map(({ text }) => text)).toEqual([
      expect.stringMatching(/^Ada, on the bag: one breath in its place, in 2\d of 2\d cycles\.$/),
      expect.stringMatching(/^Ben, on the bag: one breath in its place, in 2\d of 2\d cycles\.$/),
      expect.stringMatching(
        /^Both: at the swap compressions were back within [23] seconds, and the first cycle was right\.$/,
      ),
    ]);
  });
  it('is not given in a bout with one unmet or unseen', () => {
    const one = say(DRILL, [...MET_TWICE, tick(20_000, 'depth', null)]).praise.map(({ text }) => text);
    // The first minute, in which Ada compressed and Ben gave the breaths, may not be praised; the second may.
    expect(one).toEqual([
      expect.stringMatching(/^Ada, on the bag: /),
      expect.stringMatching(/^Ben, on the chest: /),
    ]);
    expect(say(DRILL).praise).toEqual([]);
  });
});

it('of an empty drill there is nothing but to do it', () => {
  const advice = adviceSentences(adviceOfLines(openLine(), []), NAMES);
  expect(advice).toEqual({
    headline: null,
    tick: null,
    people: [],
    pair: null,
    praise: [],
    next: 'No cycle was completed: too little to say. Do two more minutes, then look again.',
  });
});
