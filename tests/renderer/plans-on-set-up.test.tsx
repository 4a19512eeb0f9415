// @vitest-environment happy-dom
import { act } from 'react';
import { expect, test } from 'vitest';
import type { StationSettings, StoredPlan } from '../../electron/contract.ts';
import { formatPlan } from '../../machines/plans/plan-file.ts';
import { newPlan, practise, READY_MADE } from '../../machines/plans/ready-made.ts';
import { keyName } from '../../machines/words/screens.ts';
import type { OpenRequest } from '../../renderer/app/app-machine.ts';
import { ClassShelf } from '../../renderer/app/class-shelf.ts';
import { PlanShelf } from '../../renderer/app/plan-shelf.ts';
import { SetUp } from '../../renderer/screens/set-up.tsx';
import { SwitchDesk } from '../../renderer/switches/switch-desk.ts';
import { SETTINGS } from '../support/drills.ts';
import { FakeBridge } from '../support/fake-bridge.ts';
import { fakeSound } from '../support/fake-sound.ts';
import { Screen } from '../support/screen.tsx';

async function show(settings: Partial<StationSettings> = {}, plans: StoredPlan[] = []) {
  const bridge = new FakeBridge();
  bridge.plans = plans;
  const shelf = new PlanShelf(bridge);
  await shelf.load();
  const started: OpenRequest[] = [];
  const screen = await Screen.show(
    <SetUp
      start={{
        facts: null,
        settings: { ...SETTINGS, rig: 'rhythm', ...settings },
        entries: [],
        problem: null,
      }}
      isOpening={false}
      switches={new SwitchDesk(window)}
      sound={fakeSound().sound}
      plans={shelf}
      classes={new ClassShelf(bridge)}
      nameOfKey={(code) => keyName(code)}
      onStart={(request) => started.push(request)}
      onRemember={() => undefined}
      onDebrief={() => undefined}
    />,
  );
  const choose = async (label: string, value: string, place = 0) => {
    const found = [...screen.element.querySelectorAll('label')].filter(
      (one) => one.querySelector('.field-label')?.textContent === label,
    );
    const select = found[place]?.querySelector('select');
    if (select === null || select === undefined) throw new Error(`no choice is labelled ${label}`);
    await act(async () => {
      select.value = value;
      select.dispatchEvent(new Event('change', { bubbles: true }));
    });
  };
  const write = async (label: string, text: string, place = 0) => {
    const found = [...screen.element.querySelectorAll('label')].filter(
      (one) => one.querySelector('.field-label')?.textContent === label,
    );
    const input = found[place]?.querySelector('input');
    if (input === null || input === undefined) throw new Error(`no field is labelled ${label}`);
    await act(async () => {
      Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')?.set?.call(input, text);
      input.dispatchEvent(new Event('input', { bubbles: true }));
    });
  };
  const takeIn = async (text: string, name: string) => {
    const input = screen.element.querySelector<HTMLInputElement>('input[type="file"]');
    if (input === null) throw new Error('no file can be taken in');
    Object.defineProperty(input, 'files', { value: [new File([text], name)], configurable: true });
    await act(async () => {
      input.dispatchEvent(new Event('change', { bubbles: true }));
      // A file's text comes with the next turns of the loop, not of the microtasks.
      for (let turn = 0; turn < 10; turn += 1) await new Promise((resolve) => setImmediate(resolve));
    });
    await screen.settle();
  };
  const alerts = () =>
    [...screen.element.querySelectorAll('[role="alert"]')].map((one) => one.textContent).join('');
  const openPlans = () => screen.click(screen.button('Plans: change, duplicate, share'));
  const start = async () => {
    await screen.click(screen.button(/^Start the drill/));
    return started.at(-1)?.setup;
  };
  return { bridge, screen, choose, write, takeIn, alerts, openPlans, start };
}

test('without a plan a drill has none, and Set-up asks for everything', async () => {
  const { screen, start } = await show();
  expect(screen.text).toContain('The compressor stands at the');
  expect(await start()).not.toHaveProperty('plan');
});

test('a plan that is chosen says how the drill opens, leg by leg in words, and is opened with it', async () => {
  const { screen, choose, start } = await show({ technique: 'two-finger', guidance: 'led' });
  await choose('Plan', 'head-end');
  expect(screen.text).not.toContain('The compressor stands at the');
  expect(screen.text).toContain('3 legs, 3:10');
  expect(screen.text).toContain(
    'two-thumb, head-end, airway secured, unled, 2:00; finish by itself, after 10 s of warning',
  );
  expect(await start()).toMatchObject({
    plan: READY_MADE['head-end'],
    technique: 'two-thumb',
    stance: 'foot-end',
    airway: 'mask',
    guidance: 'unled',
    cycleMs: 2000,
    tolerance: 'standard',
  });
});

test('first contact opens led, slow and with the wider tolerance; the whole sequence with the count off', async () => {
  const { choose, start } = await show();
  await choose('Plan', 'first-contact');
  expect(await start()).toMatchObject({ guidance: 'led', cycleMs: 3000, tolerance: 'first' });
  await choose('Plan', 'whole-sequence');
  expect(await start()).toMatchObject({ guidance: 'unled', cycleMs: 2000, tolerance: 'standard' });
});

test('the plan that was last chosen is chosen again, and one that is gone is none', async () => {
  const own: StoredPlan = { fileName: 'mine-1.antiphon-plan.json', plan: newPlan('Mine'), problem: null };
  const { start } = await show({ plan: own.fileName }, [own]);
  expect(await start()).toMatchObject({ plan: newPlan('Mine') });
  const gone = await show({ plan: own.fileName });
  expect(await gone.start()).not.toHaveProperty('plan');
});

test('two-finger, and head-end with a mask, are allowed and warned about', async () => {
  const legs = [practise({ stance: 'head-end', technique: 'two-finger' })];
  const own: StoredPlan = {
    fileName: 'a-1.antiphon-plan.json',
    plan: { ...newPlan('Mine'), legs },
    problem: null,
  };
  const { screen, choose, start } = await show({}, [own]);
  await choose('Plan', own.fileName);
  const cautions = [...screen.element.querySelectorAll('.plan-cautions li')].map((one) => one.textContent);
  expect(cautions).toEqual([
    'Head-end with a mask: two at the head are in each other’s way. Secure the airway first, or move the ventilator to the side.',
    'Head-end is for two-thumb.',
    'Two-finger is the exception: two-thumb is the method of choice, and timing alone cannot compare them.',
  ]);
  expect(await start()).toMatchObject({ stance: 'head-end', technique: 'two-finger' });
});

test('a plan with more than the rig was checked for today is said to have it', async () => {
  const rigCheck = {
    outcome: 'passed' as const,
    at: new Date().toISOString(),
    techniques: ['two-thumb' as const],
    stances: ['foot-end' as const],
  };
  const { screen, choose, start } = await show({ rig: 'manikin', rigCheck, technique: 'two-finger' });
  await choose('Plan', 'two-minutes-then-swap');
  expect(screen.text).not.toContain('The rig was not checked');
  await choose('Plan', 'both-techniques');
  expect(screen.text).toContain('The rig was not checked today with two-finger, foot-end');
  expect(await start()).toMatchObject({ rig: 'manikin', technique: 'two-thumb' });
});

test('a ready-made plan is duplicated, changed and saved as the station’s own', async () => {
  const { bridge, screen, write, choose, openPlans } = await show();
  await openPlans();
  await screen.click(
    screen.element.querySelector<HTMLElement>('[aria-label="Duplicate: Cold minute"]') ?? screen.element,
  );
  await write('Name', 'Cold half minute');
  await write('Seconds, 5 to 3600', '30');
  await choose('Technique', 'two-finger');
  await screen.click(screen.button('Add a leg'));
  await choose('It is', 'rest', 1);
  await screen.click(screen.button('Save the plan'));
  await screen.settle();
  const [leg] = READY_MADE['cold-minute'].legs;
  expect(bridge.plans.map(({ plan }) => plan)).toEqual([
    {
      ...READY_MADE['cold-minute'],
      name: 'Cold half minute',
      legs: [
        { ...leg, seconds: 30, technique: 'two-finger' },
        { kind: 'rest', seconds: 30, next: leg?.next },
      ],
    },
  ]);
  expect(screen.text).toContain('Cold half minute');
});

test('a plan that cannot be is not saved, and the leg and reason are said', async () => {
  const { bridge, screen, write, alerts, openPlans } = await show();
  await openPlans();
  await screen.click(screen.button('New plan'));
  await write('Seconds, 5 to 3600', '3');
  await screen.click(screen.button('Save the plan'));
  expect(alerts()).toBe('Not saved: leg 1, seconds is not 5 to 3600 s, whole.');
  expect(bridge.plans).toEqual([]);
});

test('a file is taken in, or refused with its line and reason', async () => {
  const { bridge, screen, takeIn, alerts, openPlans } = await show();
  await openPlans();
  const text = formatPlan(READY_MADE['both-techniques']);
  await takeIn(text.replace('"two-finger"', '"one-hand"'), 'mine.antiphon-plan.json');
  expect(alerts()).toBe(
    'mine.antiphon-plan.json is refused: line 30: legs.1.technique is not one of two-thumb, two-finger.',
  );
  await takeIn('plan!', 'mine.txt');
  expect(alerts()).toBe('mine.txt is refused: line 1: here the text is not JSON.');
  await takeIn(text, 'mine.antiphon-plan.json');
  expect(alerts()).toBe('');
  expect(screen.text).toContain('“Both techniques, three times” is taken in.');
  expect(bridge.plans.map(({ plan }) => plan)).toEqual([READY_MADE['both-techniques']]);
});

test('one of the station’s own is removed after asking; a file that is no plan is named and left', async () => {
  const own: StoredPlan = { fileName: 'a-1.antiphon-plan.json', plan: newPlan('Mine'), problem: null };
  const bad: StoredPlan = {
    fileName: 'b.antiphon-plan.json',
    plan: null,
    problem: 'line 1: the file is empty',
  };
  const { bridge, screen, openPlans } = await show({}, [own, bad]);
  await openPlans();
  expect(screen.text).toContain(
    'b.antiphon-plan.json is no plan: line 1: the file is empty. It is left as it is.',
  );
  await screen.click(
    screen.element.querySelector<HTMLElement>('[aria-label="Remove: Mine"]') ?? screen.element,
  );
  expect(bridge.plans).toHaveLength(2);
  await screen.click(screen.button('Remove it'));
  await screen.settle();
  expect(bridge.plans).toEqual([bad]);
});

test('a full disk is said, and what was written is still in the form', async () => {
  const { bridge, screen, write, alerts, openPlans } = await show();
  bridge.failure = { ok: false, code: 'disk', message: 'the plan cannot be saved (ENOSPC)' };
  await openPlans();
  await screen.click(screen.button('New plan'));
  await write('Name', 'Mine');
  await screen.click(screen.button('Save the plan'));
  await screen.settle();
  expect(alerts()).toBe('the plan cannot be saved (ENOSPC)');
  expect(screen.button('Save the plan')).toBeTruthy();
});
