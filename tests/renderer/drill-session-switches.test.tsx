// @vitest-environment happy-dom
import { describe, expect, onTestFinished, test } from 'vitest';
import type { BodyLine } from '../../machines/journal.ts';
import { scoreJournal } from '../../machines/replay.ts';
import { DrillClock } from '../../renderer/adapters/drill-clock.ts';
import { DrillSession } from '../../renderer/app/drill-session.ts';
import { Floor } from '../../renderer/screens/floor.tsx';
import type { SwitchListener } from '../../renderer/switches/switch-source.ts';
import { numbered, openLineOf, setupOf, WINDOW_ID } from '../support/drills.ts';
import { FakeBridge } from '../support/fake-bridge.ts';
import { fakeSound } from '../support/fake-sound.ts';
import { Screen } from '../support/screen.tsx';

async function show({ isBegunByHolding = false } = {}) {
  const bridge = new FakeBridge();
  const opened = await bridge.openDrill(setupOf());
  if (!opened.ok) throw new Error(opened.message);
  let pageMs = 0;
  const heard: SwitchListener[] = [];
  const held: string[] = [];
  const session = new DrillSession({
    opened: opened.value,
    bridge,
    clock: new DrillClock(0, () => pageMs),
    switches: {
      listen: (listener) => {
        heard.push(listener);
        return () => undefined;
      },
    },
    windowId: WINDOW_ID,
    wait: () => new Promise(() => undefined),
    makeCount: () => ({ follow: () => undefined, look: () => undefined }),
    isBegunByHolding,
    onBothHeld: (next) => held.push(next),
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
  const [listener] = heard;
  if (listener === undefined) throw new Error('nobody listens');
  const edge = (switchName: 'chest' | 'airway', down: boolean, timeStampMs: number) =>
    screen.during(() => {
      pageMs = Math.max(pageMs, timeStampMs);
      listener.onEdge({ switch: switchName, down, timeStampMs });
    });
  const press = async (name: 'chest' | 'airway', fromMs: number, toMs: number) => {
    await edge(name, true, fromMs);
    await edge(name, false, toMs);
  };
  const tick = (atMs: number) =>
    screen.during(() => {
      pageMs = atMs;
      session.tick();
    });
  const call = (name: 'begin' | 'finish' | 'rest', atMs: number) =>
    screen.during(() => session.call({ call: name }, atMs));
  return { bridge, session, screen, listener, edge, press, tick, call, held };
}

function wordsOf(lines: readonly BodyLine[]): string[] {
  return lines.map((line) => {
    if (line.kind === 'edge') return `${line.at} ${line.switch} ${line.down ? 'down' : 'up'}`;
    if (line.kind === 'call') return `${line.at} ${line.call}`;
    if (line.kind === 'device') return `${line.at} ${line.switch ?? ''} ${line.what}`;
    return line.kind;
  });
}

describe('a switch that cannot be relied on', () => {
  test('unplugged is a line and is said on the instructor’s Floor; the drill goes on', async () => {
    const { bridge, screen, listener, press, call } = await show();
    await call('begin', 500);
    await screen.during(() => listener.onDevice('unplugged', 'airway', 900));
    await press('chest', 1000, 1200);
    expect(screen.text).toContain('The airway switch is unplugged: no press of it is seen.');
    await screen.during(() => listener.onDevice('plugged-in', 'airway', 1300));
    expect(screen.text).toContain('The airway switch is plugged in.');
    expect(wordsOf(bridge.lines)).toEqual([
      '500 begin',
      '900 airway unplugged',
      '1000 chest down',
      '1200 chest up',
      '1300 airway plugged-in',
    ]);
  });

  test('stuck is told from a timer, with the time of the line before it: an edge that is handled later keeps its time', async () => {
    const { bridge, screen, edge, tick, call } = await show();
    await call('begin', 500);
    await edge('chest', true, 1000);
    await tick(4100);
    expect(screen.text).toContain('The chest switch has been down for more than three seconds');
    await edge('airway', true, 4050);
    await edge('chest', false, 4200);
    expect(wordsOf(bridge.lines)).toEqual([
      '500 begin',
      '1000 chest down',
      '1000 chest stuck',
      '4050 airway down',
      '4200 chest up',
    ]);
    expect(screen.text).not.toContain('more than three seconds');
  });

  test('silent for a whole bout is told when the bout ends', async () => {
    const { bridge, screen, press, call } = await show();
    await call('begin', 500);
    for (let at = 1000; at < 5000; at += 500) await press('chest', at, at + 200);
    await call('rest', 5000);
    expect(screen.text).toContain(
      'No press of the airway switch was registered in the whole of the last bout',
    );
    expect(wordsOf(bridge.lines).slice(-2)).toEqual(['5000 rest', '5000 airway silent']);
  });
});

describe('with no instructor at hand, holding both switches', () => {
  test('begins the drill when they are let go, and the learners are told how', async () => {
    const { bridge, session, screen, edge, tick, press, held } = await show({ isBegunByHolding: true });
    await screen.press('Digit0');
    expect(screen.text).toContain('Hold both switches to begin');
    await edge('chest', true, 1000);
    await edge('airway', true, 1300);
    await tick(3200);
    expect([held, screen.text.includes('Let go, and begin')]).toEqual([[], false]);
    await tick(3400);
    expect([held, screen.text.includes('Let go, and begin')]).toEqual([['begin'], true]);
    await edge('airway', false, 3500);
    await edge('chest', false, 3600);
    expect(screen.element.querySelector('.called')?.textContent).toBe('Begin');
    await press('chest', 6000, 6200);
    expect(wordsOf(bridge.lines)).toEqual([
      '1300  both-held',
      '3600 begin',
      '6000 chest down',
      '6200 chest up',
    ]);
    expect(session.status.isLetGoAwaited).toBe(false);
  });

  test('finishes it, and is neither a compression nor a breath: the report is as if the instructor had finished', async () => {
    const { bridge, session, edge, tick, press, call, held } = await show({ isBegunByHolding: true });
    await call('begin', 500);
    for (let cycle = 0; cycle < 6; cycle += 1) {
      const at = 1000 + cycle * 2000;
      for (const beat of [0, 500, 1000]) await press('chest', at + beat, at + beat + 200);
      await press('airway', at + 1500, at + 1900);
    }
    const before = bridge.lines;
    await edge('airway', true, 14_000);
    await edge('chest', true, 14_100);
    await tick(16_200);
    await edge('chest', false, 16_500);
    await edge('airway', false, 16_600);
    expect([held, session.driver.snapshot.value.stage]).toEqual([['finish'], 'finished']);
    expect(wordsOf(bridge.lines.slice(before.length))).toEqual(['14100  both-held', '14100 finish']);
    const open = openLineOf();
    const skipped = { lines: 0, fields: 0, tornBytes: 0 };
    const report = (lines: readonly BodyLine[]) =>
      scoreJournal({ open, lines: numbered(lines), isClosed: false, skipped }).report;
    expect(report(bridge.lines)).toEqual(report([...before, { kind: 'call', at: 14_000, call: 'finish' }]));
    expect(report(bridge.lines).drill.cycles.total).toBe(5);
  });

  test('does nothing where it is not asked for', async () => {
    const { bridge, screen, edge, tick, held } = await show();
    await screen.press('Digit0');
    expect(screen.text).not.toContain('Hold both switches');
    await edge('chest', true, 1000);
    await edge('airway', true, 1300);
    await tick(3900);
    expect([held, wordsOf(bridge.lines)]).toEqual([[], ['1000 chest down', '1300 airway down']]);
  });

  test('a call while both are held goes after them, and the hold is then no sign', async () => {
    const { bridge, edge, tick, call, held } = await show({ isBegunByHolding: true });
    await edge('chest', true, 1000);
    await edge('airway', true, 1300);
    await call('begin', 2000);
    await tick(4000);
    expect([held, wordsOf(bridge.lines)]).toEqual([
      [],
      ['1000 chest down', '1300 airway down', '2000 begin'],
    ]);
  });

  test('a switch that hangs after the sign is told, and swallows no press once the instructor has begun', async () => {
    const { bridge, session, screen, edge, tick, press, call } = await show({ isBegunByHolding: true });
    await edge('chest', true, 1000);
    await edge('airway', true, 1300);
    await tick(3400);
    await edge('airway', false, 3500);
    await tick(4100);
    expect(screen.text).toContain('The chest switch has been down for more than three seconds');
    await call('begin', 5000);
    expect(session.status.isLetGoAwaited).toBe(false);
    await press('airway', 6000, 6300);
    await edge('chest', false, 7000);
    await press('chest', 8000, 8200);
    expect(wordsOf(bridge.lines)).toEqual([
      '1300  both-held',
      '1300 chest stuck',
      '5000 begin',
      '6000 airway down',
      '6300 airway up',
      '8000 chest down',
      '8200 chest up',
    ]);
  });

  test('a switch that hangs after the sign begins nothing, and ten seconds later the sign is over', async () => {
    const { bridge, session, edge, tick, press } = await show({ isBegunByHolding: true });
    await edge('chest', true, 1000);
    await edge('airway', true, 1300);
    await tick(3400);
    await edge('airway', false, 3500);
    await tick(13_400);
    expect(session.status.isLetGoAwaited).toBe(false);
    await press('airway', 14_000, 14_300);
    await edge('chest', false, 15_000);
    expect(wordsOf(bridge.lines)).toEqual([
      '1300  both-held',
      '1300 chest stuck',
      '14000 airway down',
      '14300 airway up',
    ]);
  });

  test('a hold whose release nobody saw begins nothing', async () => {
    const { bridge, screen, listener, edge, tick } = await show({ isBegunByHolding: true });
    await edge('chest', true, 1000);
    await edge('airway', true, 1300);
    await tick(3400);
    await screen.during(() => {
      for (const name of ['chest', 'airway'] as const)
        listener.onEdge({ switch: name, down: false, lost: true, timeStampMs: 3500 });
      listener.onFocus(false, 3500);
    });
    expect(wordsOf(bridge.lines)).toEqual(['1300  both-held', '3500  focus-lost']);
    await screen.press('Digit0');
    expect(screen.text).toContain('Hold both switches to begin');
  });
});
