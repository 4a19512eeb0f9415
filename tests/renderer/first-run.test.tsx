// @vitest-environment happy-dom
import { act } from 'react';
import { expect, onTestFinished, test } from 'vitest';
import { FIRST_SETTINGS, type StationSettings } from '../../electron/contract.ts';
import { ALL_CAUTIONS } from '../../machines/words/help-words.ts';
import { WALK_STEPS } from '../../machines/words/walk-words.ts';
import { Station } from '../../renderer/app/station.ts';
import { App } from '../../renderer/screens/app.tsx';
import { OPENED_AT, SETTINGS, WINDOW_ID } from '../support/drills.ts';
import { FakeBridge } from '../support/fake-bridge.ts';
import { fakeSound } from '../support/fake-sound.ts';
import { Screen } from '../support/screen.tsx';

async function open(settings: StationSettings | null, role: 'instructor' | 'learners' = 'instructor') {
  const bridge = new FakeBridge();
  bridge.settings = settings;
  const { sound } = fakeSound();
  const station = new Station({
    bridge,
    window,
    windowId: WINDOW_ID,
    role,
    keyLayout: () => undefined,
    sound,
  });
  const screen = await Screen.show(<App station={station} />);
  onTestFinished(() => station.leave());
  await settle(screen);
  return { screen, bridge };
}

/** An actor's answer takes a turn of the timers too. */
async function settle(screen: Screen): Promise<void> {
  for (let turn = 0; turn < 5; turn += 1) {
    await act(() => new Promise((resolve) => setImmediate(resolve)));
    await screen.settle();
  }
}

test('a new station shows the cautions before anything else, and remembers that they were read', async () => {
  const { screen, bridge } = await open(null);
  for (const caution of ALL_CAUTIONS) expect(screen.text).toContain(caution);
  expect(screen.text).not.toContain('Who practises');
  expect(document.activeElement).toBe(screen.button(/^Understood/));
  expect(bridge.settings).toBe(null);
  await screen.click(screen.button(/^Understood/));
  expect(bridge.settings).toEqual({
    ...FIRST_SETTINGS,
    cautionsReadAt: expect.stringMatching(/^\d{4}-.*Z$/),
  });
});

/** The walk through is a file of its own, which has to come first. */
async function understood(screen: Screen): Promise<void> {
  await screen.click(screen.button(/^Understood/));
  await import('../../renderer/screens/walk-through.tsx');
  await screen.settle();
}

test('then the walk through, which Escape leaves at once for Set-up', async () => {
  const { screen, bridge } = await open(null);
  await understood(screen);
  expect(screen.text).toContain('step 1 of 7');
  await screen.press('Escape');
  expect(screen.text).toContain('Who practises');
  expect(bridge.drills.size).toBe(0);
});

test('or goes on step by step to Set-up, invented on every one, and nothing is written', async () => {
  const { screen, bridge } = await open(null);
  await understood(screen);
  const seen: string[] = [];
  for (const [at, step] of WALK_STEPS.entries()) {
    expect(screen.text).toContain(`step ${at + 1} of ${WALK_STEPS.length}`);
    expect(screen.text).toContain('Invented pair: nobody is pressing, and nothing is recorded.');
    expect(screen.text).toContain(step.text);
    seen.push(step.view);
    await screen.click(screen.button(at < WALK_STEPS.length - 1 ? /^Go on/ : /^To Set-up/));
  }
  expect(new Set(seen)).toEqual(new Set(['learners', 'instructor', 'debrief, ask', 'debrief', 'nothing']));
  expect(screen.text).toContain('Who practises');
  expect(bridge.drills.size).toBe(0);
});

test('a station used before this release is asked to read them once, without the walk through', async () => {
  const { screen, bridge } = await open({ ...SETTINGS, cautionsReadAt: null });
  await screen.click(screen.button(/^Understood/));
  expect(screen.text).toContain('Who practises');
  expect(bridge.settings).toEqual({ ...SETTINGS, cautionsReadAt: expect.stringMatching(/Z$/) });
});

test('where they were read, and in the learners’ window, they are not asked for', async () => {
  const { screen } = await open({ ...SETTINGS, cautionsReadAt: OPENED_AT });
  expect(screen.text).toContain('Who practises');
  const learners = await open(null, 'learners');
  expect(learners.screen.text).toContain('The drill is shown here');
});
