import type { DrillSetup, PadBinding, StationSettings, SwitchBinding } from '../../electron/contract.ts';
import { type Switch, switchesOf } from '../../machines/journal.ts';
import { combineSources } from './combined-source.ts';
import { KeyboardSource } from './keyboard-source.ts';
import { NO_OTHER_WINDOWS, type OtherWindows } from './other-windows.ts';
import { readPads } from './pad-controls.ts';
import { PadSource } from './pad-source.ts';
import { pollFast } from './poll-loop.ts';
import type { SwitchSource } from './switch-source.ts';
import { GAMEPAD_STAMPED } from './switch-times.ts';

/** The two switches of a drill as one source. The keyboard is always listened to: for third keys, and for the focus. */
export function makeSwitches(
  window: Window,
  { switches, instructorKeys }: Pick<StationSettings, 'switches' | 'instructorKeys'>,
  { binding, bounceMs, sources }: Pick<DrillSetup, 'binding' | 'bounceMs' | 'sources'>,
  others: OtherWindows = NO_OTHER_WINDOWS,
): SwitchSource {
  const bound = bindingsOf(switches, binding);
  const keys = new Map<string, Switch>();
  const pads = new Map<Switch, PadBinding>();
  for (const [name, one] of bound) {
    if (one.kind === 'key') keys.set(one.code, name);
    else pads.set(name, one);
  }
  const { document, performance } = window;
  const keyboard = new KeyboardSource({
    window,
    document,
    bindings: keys,
    bounceMs,
    others,
    instructorKeys,
  });
  if (pads.size === 0) return keyboard;
  const pad = new PadSource({
    window,
    document,
    readPads: () => readPads(window),
    now: () => performance.now(),
    startPolling: pollFast(window),
    bindings: pads,
    stamped: new Set([...pads.keys()].filter((name) => sources[name]?.kind === GAMEPAD_STAMPED)),
  });
  // Pads first: what they did before a key event is told before it.
  return combineSources([toldIf(pad, () => others.tellsPads), keyboard]);
}

/** The source, heard only while it is this window's to tell. */
function toldIf(source: SwitchSource, isTold: () => boolean): SwitchSource {
  return {
    listen: ({ onEdge, onLevel, onThirdKey, onFocus, onDevice }) =>
      source.listen({
        // How a switch stands is no line of the drill's: every window may know.
        ...(onLevel === undefined ? {} : { onLevel }),
        onEdge: (edge) => (isTold() ? onEdge(edge) : undefined),
        onThirdKey: (code, timeStampMs) => (isTold() ? onThirdKey(code, timeStampMs) : undefined),
        onFocus,
        onDevice: (what, name, timeStampMs) => (isTold() ? onDevice(what, name, timeStampMs) : undefined),
      }),
  };
}

/** Which switch each binding is: the first the chest's or A's, the second the airway's or B's. */
export function bindingsOf(
  { chest, airway }: StationSettings['switches'],
  binding: DrillSetup['binding'],
): readonly (readonly [Switch, SwitchBinding])[] {
  const [first, second] = switchesOf(binding);
  return [
    [first, chest],
    [second, airway],
  ];
}
