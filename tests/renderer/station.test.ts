// @vitest-environment happy-dom
import { expect, onTestFinished, test } from 'vitest';
import type { StationSettings } from '../../electron/contract.ts';
import { READY_MADE } from '../../machines/plans/ready-made.ts';
import { Station } from '../../renderer/app/station.ts';
import { OTHER_WINDOW_ID, SETTINGS, setupOf, WINDOW_ID } from '../support/drills.ts';
import { FakeBridge } from '../support/fake-bridge.ts';
import { fakeSound } from '../support/fake-sound.ts';

const PLAN = { ...READY_MADE['cold-minute'], begin: { by: 'itself', warningSeconds: 10 } as const };

function makeStation(bridge: FakeBridge, windowId: string) {
  const { sound, player } = fakeSound();
  const station = new Station({
    bridge,
    window,
    windowId,
    role: 'instructor',
    keyLayout: () => undefined,
    sound,
  });
  onTestFinished(() => station.leave());
  return { station, player };
}

test('what was chosen on Set-up is so in both windows; the one that gives the count says what is soon', async () => {
  const bridge = new FakeBridge();
  const settings: StationSettings = { ...SETTINGS, instructorKeys: { '2': 'KeyQ' } };
  const one = makeStation(bridge, WINDOW_ID);
  const other = makeStation(bridge, OTHER_WINDOW_ID);
  expect(await one.station.open(setupOf({ plan: PLAN }), settings)).toMatchObject({ ok: true });
  expect(await other.station.join()).toEqual({ ok: true, value: true });
  for (const { station } of [one, other]) for (let tick = 0; tick < 3; tick += 1) station.session?.tick();
  expect([one, other].map(({ station }) => station.session?.instructorKeys)).toEqual([
    { '2': 'KeyQ' },
    { '2': 'KeyQ' },
  ]);
  expect(one.player.said).toEqual([{ words: 'begin soon', isTakenBack: false }]);
  expect(other.player.said).toEqual([]);
  one.station.leave();
  expect(one.player.said).toEqual([{ words: 'begin soon', isTakenBack: true }]);
});

test('a drill whose sound is off says nothing of what is soon', async () => {
  const { station, player } = makeStation(new FakeBridge(), WINDOW_ID);
  await station.open(setupOf({ plan: PLAN }), { ...SETTINGS, sound: { ...SETTINGS.sound, isOn: false } });
  station.session?.tick();
  expect(player.said).toEqual([]);
});
