import { expect, test } from 'vitest';
import { LEARNERS_WORDS } from '../../machines/words/languages.ts';
import { WALK_STEPS } from '../../machines/words/walk-words.ts';
import { debriefOf } from '../../renderer/app/debrief-data.ts';
import { givenCountOf, learnersViewOf } from '../../renderer/app/learners-view.ts';
import { PlayedDrill } from '../../renderer/app/played-drill.ts';

function play() {
  let now = 5000;
  const drill = new PlayedDrill(() => now);
  const goTo = (ms: number) => {
    now = 5000 + ms;
    drill.advance();
  };
  const begin = (step: number) => {
    now = 5000;
    const { fromMs = 0, untilMs = 0 } = WALK_STEPS[step] ?? {};
    return drill.show(fromMs, untilMs);
  };
  return { drill, goTo, begin };
}
const chartOf = ({ drill }: ReturnType<typeof play>) => drill.session.driver.snapshot;

test('it goes on in time from where it is shown, and no further than it is to be', () => {
  const played = play();
  const session = played.begin(2);
  const before = session.driver.cycleCount;
  played.goTo(4000);
  expect(session.driver.cycleCount).toBe(before + 2);
  expect(session.clock.now()).toBe(18_000);
  played.goTo(60_000);
  expect(session.clock.now()).toBe(22_000);
  expect(session.driver.cycleCount).toBeLessThan(before + 6);
});

test('what the steps say is what the drill shows', () => {
  const played = play();
  const { people } = played.drill.text.open;
  played.begin(0);
  expect(learnersViewOf(chartOf(played), people, 0, LEARNERS_WORDS.english).quiet).toEqual([
    'Ada compresses',
    'Ben ventilates',
  ]);
  played.begin(1);
  played.goTo(3000);
  expect(givenCountOf(chartOf(played), 5600)).not.toBe(null);
  played.begin(2);
  expect(givenCountOf(chartOf(played), 14_000)).not.toBe(null);
  played.goTo(5500);
  // "At 19 seconds the pair is steady, and the weaned count falls silent."
  expect(givenCountOf(chartOf(played), 19_900)).toBe(null);
  played.begin(3);
  expect(chartOf(played).context.called.roles.compressor).toBe('A');
  played.goTo(1500);
  expect(chartOf(played).context.called.roles.compressor).toBe('B');
  expect(chartOf(played).context.arrangement.roles.compressor).toBe('A');
  played.goTo(8500);
  expect(chartOf(played).context.arrangement.roles.compressor).toBe('B');
  const { toTry } = debriefOf(played.drill.text).advice.forPerson.A;
  expect(toTry).toMatchObject({ rule: 'breath-too-soon', role: 'ventilator' });
});

test('what is called of it goes nowhere', async () => {
  const played = play();
  const session = played.begin(2);
  const { length } = session.driver.lines;
  session.call({ call: 'swap' }, 6000);
  await Promise.resolve();
  expect(session.driver.lines.length).toBe(length);
  expect(chartOf(played).context.called.roles.compressor).toBe('A');
});
