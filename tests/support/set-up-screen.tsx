import type { StationSettings } from '../../electron/contract.ts';
import { keyName } from '../../machines/words/screens.ts';
import type { OpenRequest } from '../../renderer/app/app-machine.ts';
import { ClassShelf } from '../../renderer/app/class-shelf.ts';
import { PlanShelf } from '../../renderer/app/plan-shelf.ts';
import { SetUp } from '../../renderer/screens/set-up.tsx';
import { SwitchDesk } from '../../renderer/switches/switch-desk.ts';
import { SETTINGS } from './drills.ts';
import { FakeBridge } from './fake-bridge.ts';
import { fakeSound } from './fake-sound.ts';
import { Screen } from './screen.tsx';

/** Set-up on the test's settings: what it asked to be started, and to be remembered. */
export async function showSetUp(settings: Partial<StationSettings>): Promise<{
  screen: Screen;
  started: OpenRequest[];
  remembered: StationSettings[];
}> {
  const started: OpenRequest[] = [];
  const remembered: StationSettings[] = [];
  const screen = await Screen.show(
    <SetUp
      start={{ facts: null, settings: { ...SETTINGS, ...settings }, entries: [], problem: null }}
      isOpening={false}
      sound={fakeSound().sound}
      plans={new PlanShelf(new FakeBridge())}
      classes={new ClassShelf(new FakeBridge())}
      switches={new SwitchDesk(window)}
      nameOfKey={(code) => keyName(code)}
      onStart={(request) => started.push(request)}
      onRemember={(one) => remembered.push(one)}
      onDebrief={() => undefined}
    />,
  );
  return { screen, started, remembered };
}
