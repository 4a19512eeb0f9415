// @vitest-environment happy-dom
import { expect, onTestFinished, test } from 'vitest';
import type { Plan } from '../../machines/plans/plan.ts';
import { practise } from '../../machines/plans/ready-made.ts';
import { DrillClock } from '../../renderer/adapters/drill-clock.ts';
import { DrillSession } from '../../renderer/app/drill-session.ts';
import { Floor } from '../../renderer/screens/floor.tsx';
import { setupOf, WINDOW_ID } from '../support/drills.ts';
import { FakeBridge } from '../support/fake-bridge.ts';
import { fakeSound } from '../support/fake-sound.ts';
import { Screen } from '../support/screen.tsx';

const UNLED = { guidance: 'unled' } as const;
const ITSELF = { by: 'itself', warningSeconds: 10 } as const;
const SWAPS: Plan = {
  kind: 'antiphon-plan',
  version: 1,
  name: 'Two swaps',
  words: { learners: 'Swap when you are told.', instructor: 'Say nothing.' },
  begin: { by: 'instructor' },
  legs: [
    practise({ ...UNLED, seconds: 60, next: ITSELF }),
    practise({
      ...UNLED,
      seconds: 60,
      compressor: 'swap',
      technique: 'two-finger',
      next: { by: 'instructor' },
    }),
    practise({
      ...UNLED,
      seconds: 60,
      compressor: 'swap',
      technique: 'two-finger',
      next: ITSELF,
      note: 'The last one.',
    }),
  ],
};

async function show(isPlanRunHere: boolean, plan: Plan = SWAPS) {
  const bridge = new FakeBridge();
  const opened = await bridge.openDrill(setupOf({ plan }));
  if (!opened.ok) throw new Error(opened.message);
  let pageMs = 0;
  const session = new DrillSession({
    opened: opened.value,
    bridge,
    clock: new DrillClock(0, () => pageMs),
    switches: { listen: () => () => undefined },
    windowId: WINDOW_ID,
    wait: () => new Promise(() => undefined),
    makeCount: () => ({ follow: () => undefined, look: () => undefined }),
    isPlanRunHere,
  });
  session.start();
  onTestFinished(() => session.stop());
  const screen = await Screen.show(
    <Floor
      session={session}
      sound={fakeSound().sound}
      nameOfKey={(code) => code}
      onClosed={() => undefined}
      onLeft={() => undefined}
    />,
  );
  /** Lets the window's clock tick up to a time. */
  const until = async (ms: number) => {
    await screen.during(() => {
      pageMs = ms;
      session.tick();
    });
    await screen.settle();
  };
  const press = async (code: string) => {
    await screen.during(() => {
      const down = new KeyboardEvent('keydown', { code, cancelable: true });
      Object.defineProperty(down, 'timeStamp', { value: pageMs });
      window.dispatchEvent(down);
    });
    await screen.settle();
  };
  const planText = () => screen.element.querySelector('.plan-standing')?.textContent ?? 'no plan';
  const hint = () => screen.element.querySelector('.hint')?.textContent;
  return { bridge, screen, until, press, planText, hint };
}

function callsOf(bridge: FakeBridge): string[] {
  return bridge.lines.flatMap((line) => (line.kind === 'call' ? [`${line.at} ${line.call}`] : []));
}

test('a plan’s calls go into the journal at the plan’s times, one after the other', async () => {
  const { bridge, until, press } = await show(true);
  await press('Digit1');
  for (let ms = 250; ms <= 60_250; ms += 250) await until(ms);
  expect(callsOf(bridge)).toEqual(['0 begin', '60000 swap', '60000 technique']);
});

test('the instructor reads the leg, what comes next and the time left, in steps of 5 s', async () => {
  const { until, press, planText } = await show(true);
  expect(planText()).toContain('Begin is yours to call');
  expect(planText()).toContain('Say nothing.');
  expect(planText()).toContain('First two-thumb, foot-end, mask, unled, 1:00');
  await press('Enter');
  await until(1000);
  expect(planText()).toContain('Plan Two swaps');
  expect(planText()).toContain('leg 1 of 3, 1:00 left');
  expect(planText()).toContain('Then swap, two-finger, foot-end, mask, unled, 1:00');
  await until(5100);
  expect(planText()).toContain('0:55 left');
  await until(9900);
  expect(planText()).toContain('0:55 left');
  await until(50_000);
  expect(planText()).toContain('leg 1 of 3, 0:10 left: swap, two-finger soon');
  await until(60_000);
  await until(120_100);
  expect(planText()).toContain('its time is up, the next is yours to call');
  await press('NumpadEnter');
  expect(planText()).toContain('leg 3 of 3');
  expect(planText()).toContain('The last one.');
  expect(planText()).toContain('Then finish');
});

test('learners are warned of what is about to be called, and read nothing else of the plan', async () => {
  const { until, press, hint, screen } = await show(true);
  await press('Digit0');
  expect(screen.text).toContain('Swap when you are told.');
  await press('Enter');
  expect(screen.text).not.toContain('Swap when you are told.');
  await until(49_900);
  expect(hint()).toBe('');
  await until(50_100);
  expect(hint()).toBe('Swap, two-finger soon');
  await until(60_000);
  expect(hint()).toBe('');
  expect(screen.text).toContain('Swap');
  expect(screen.text).not.toContain('leg');
});

test('a second window shows the plan and calls nothing of itself', async () => {
  const { bridge, until, press, planText } = await show(false);
  await press('Digit1');
  await until(60_250);
  await until(60_500);
  expect(callsOf(bridge)).toEqual(['0 begin']);
  expect(planText()).toContain('leg 2 of 3');
});

test('a plan that begins and ends by itself needs nobody', async () => {
  const { bridge, until, planText } = await show(true, {
    ...SWAPS,
    begin: ITSELF,
    legs: [practise({ ...UNLED, seconds: 20, next: ITSELF })],
  });
  expect(planText()).toContain('Begin is called by itself in 0:10');
  for (let ms = 250; ms <= 31_000; ms += 250) await until(ms);
  expect(callsOf(bridge)).toEqual(['10000 begin', '30000 finish']);
});
