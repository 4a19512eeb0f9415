import type { PadBinding } from '../../electron/contract.ts';
import type { Switch } from '../../machines/journal.ts';
import type { Ms } from '../../machines/units.ts';
import { buttonTravel, findPad, isDownAt, type Pad, type Pads, travelOf } from './pad-controls.ts';
import type { StartPolling } from './poll-loop.ts';
import type { DeviceChange, SwitchListener, SwitchSource } from './switch-source.ts';

export type PadParts = {
  window: Pick<Window, 'addEventListener' | 'removeEventListener'>;
  document: Pick<Document, 'addEventListener' | 'removeEventListener' | 'visibilityState'>;
  readPads: () => Pads;
  /** The page's clock, in ms. */
  now: () => Ms;
  startPolling: StartPolling;
  bindings: ReadonlyMap<Switch, PadBinding>;
  /** Switches whose pad gives its samples sane times of their own; the others have the time of the poll. */
  stamped: ReadonlySet<Switch>;
};

type Held = {
  readonly name: Switch;
  readonly binding: PadBinding;
  isDown: boolean;
  /** Was closed when the listening began or the pad came back: no press until it has been up. */
  isIgnored: boolean;
  /** The page has been hidden since the last look. */
  isHidden: boolean;
  /** Where its pad is plugged in, or null. */
  place: number | null;
  /** Null until the pad has been looked for. */
  isPresent: boolean | null;
  wasEverPresent: boolean;
  /** Does the listener know how the switch stands? */
  isLevelTold: boolean;
  /** A switch's own times never go back. */
  lastMs: Ms;
};
type Waiting = { timeStampMs: Ms; tell: () => void };

/**
 * A pad's edges wait so long for key events from before them, whose handler may run later than their time
 * (tool default): lines of a key and a pad then stand in the order of their times.
 */
const WAIT_MS: Ms = 20;
/** A sample's own time may be older than the last poll by two of the browser's samples. */
const STAMP_SLACK_MS: Ms = 8;

/**
 * Buttons and axes of game pads as switches. The browser samples pads every few ms and tells of no edge: they are found
 * by polling, and a press that begins and ends while the page is busy is not seen.
 */
export class PadSource implements SwitchSource {
  private readonly parts: PadParts;
  private readonly switches: readonly Held[];
  /** Buttons that are down, by pad. */
  private readonly others = new Map<number, boolean[]>();
  private waiting: Waiting[] = [];
  private lastPollMs: Ms = 0;

  constructor(parts: PadParts) {
    this.parts = parts;
    this.switches = [...parts.bindings].map(([name, binding]) => ({
      name,
      binding,
      isDown: false,
      isIgnored: false,
      isHidden: false,
      place: null,
      isPresent: null,
      wasEverPresent: false,
      isLevelTold: false,
      lastMs: 0,
    }));
  }

  listen(listener: SwitchListener): () => void {
    const { window, document, startPolling, now } = this.parts;
    this.lastPollMs = now();
    for (const one of this.switches) one.isLevelTold = false;
    const poll = () => {
      if (document.visibilityState !== 'hidden') this.poll(listener);
      this.tellUntil(now() - WAIT_MS);
    };
    // What the pads did before any event of the window is told before it.
    const catchUp = (event: Event) => {
      if (document.visibilityState !== 'hidden') this.poll(listener);
      this.tellUntil(event.timeStamp);
    };
    const hide = (event: Event) => {
      if (document.visibilityState === 'hidden') this.letGo(listener, event.timeStamp);
    };
    poll();
    const stop = startPolling(poll);
    const events = ['keydown', 'keyup', 'click', 'blur', 'focus'];
    for (const name of events) window.addEventListener(name, catchUp, { capture: true });
    document.addEventListener('visibilitychange', hide);
    return () => {
      stop();
      for (const name of events) window.removeEventListener(name, catchUp, { capture: true });
      document.removeEventListener('visibilitychange', hide);
      this.waiting = [];
    };
  }

  private poll(listener: SwitchListener): void {
    const nowMs = this.parts.now();
    const pads = this.parts.readPads();
    for (const one of this.switches) {
      const pad = findPad(pads, one.binding, this.parts.bindings.values());
      // What another pad holds down is no going on of a press.
      if (pad === null || (one.place !== null && one.place !== pad.index)) this.missPad(one, nowMs, listener);
      one.place = pad?.index ?? null;
      if (pad !== null) this.readSwitch(one, pad, nowMs, listener);
    }
    for (const pad of pads) if (pad !== null) this.readOthers(pad, nowMs, listener);
    this.lastPollMs = nowMs;
  }

  private readSwitch(one: Held, pad: Pad, nowMs: Ms, listener: SwitchListener): void {
    const isDown = isDownAt(travelOf(pad, one.binding), one.isDown || one.isIgnored || one.isHidden);
    if (one.isPresent !== true) {
      if (one.isPresent === false) this.tellDevice(one, 'plugged-in', nowMs, listener);
      // Browsers show a pad at its first press only: such a press is one, if the pad was not seen before.
      one.isIgnored = isDown && (one.isPresent === null || one.wasEverPresent);
      one.isPresent = true;
      one.wasEverPresent = true;
    }
    if (one.isHidden) one.isIgnored = isDown;
    one.isHidden = false;
    if (one.isIgnored || isDown === one.isDown) {
      this.tellLevel(one, isDown, nowMs, listener);
      one.isIgnored = one.isIgnored && isDown;
      return;
    }
    one.isDown = isDown;
    one.isLevelTold = true;
    this.put(one, this.timeOf(one, pad, nowMs), (timeStampMs) =>
      listener.onEdge({ switch: one.name, down: isDown, timeStampMs }),
    );
  }

  private missPad(one: Held, nowMs: Ms, listener: SwitchListener): void {
    one.isHidden = false;
    if (one.isPresent === false) return;
    one.isPresent = false;
    this.lose(one, nowMs, listener);
    this.tellDevice(one, 'unplugged', nowMs, listener);
  }

  /** A level goes out once, and again when what was closed from before is let go. */
  private tellLevel(one: Held, isDown: boolean, nowMs: Ms, listener: SwitchListener): void {
    const isLetGo = one.isIgnored && !isDown;
    if (one.isLevelTold && !isLetGo) return;
    one.isLevelTold = true;
    this.put(one, nowMs, (timeStampMs) => listener.onLevel?.(one.name, isDown, timeStampMs));
  }

  private tellDevice(one: Held, what: DeviceChange, nowMs: Ms, listener: SwitchListener): void {
    this.put(one, nowMs, (timeStampMs) => listener.onDevice(what, one.name, timeStampMs));
  }

  /**
   * A hidden page is told of no presses: what was held is lost, and what is closed when the page is shown again starts no press,
   * since nobody saw its onset.
   */
  private letGo(listener: SwitchListener, timeStampMs: Ms): void {
    for (const one of this.switches) {
      this.lose(one, timeStampMs, listener);
      one.isHidden = true;
    }
    this.tellUntil(Number.POSITIVE_INFINITY);
  }

  private lose(one: Held, timeStampMs: Ms, listener: SwitchListener): void {
    one.isIgnored = false;
    one.isLevelTold = false;
    if (!one.isDown) return;
    one.isDown = false;
    this.put(one, timeStampMs, (atMs) =>
      listener.onEdge({ switch: one.name, down: false, lost: true, timeStampMs: atMs }),
    );
  }

  private readOthers(pad: Pad, nowMs: Ms, listener: SwitchListener): void {
    const known = this.others.get(pad.index);
    const down = known ?? [];
    for (let button = 0; button < pad.buttons.length; button += 1) {
      const wasDown = down[button] === true;
      const isDown = isDownAt(buttonTravel(pad, button), wasDown);
      // What was down when the pad was first seen was not pressed by mistake just now.
      if (isDown && !wasDown && known !== undefined && !this.isBound(pad, button))
        this.wait(nowMs, () => listener.onThirdKey(`PadButton${button}`, nowMs));
      down[button] = isDown;
    }
    if (known === undefined) this.others.set(pad.index, down);
  }

  private isBound(pad: Pad, button: number): boolean {
    return this.switches.some(
      ({ binding, place }) =>
        binding.kind === 'pad-button' && binding.button === button && place === pad.index,
    );
  }

  private timeOf(one: Held, pad: Pad, nowMs: Ms): Ms {
    const { timestamp } = pad;
    const isSane = timestamp <= nowMs && timestamp >= this.lastPollMs - STAMP_SLACK_MS;
    return this.parts.stamped.has(one.name) && isSane ? timestamp : nowMs;
  }

  private put(one: Held, timeStampMs: Ms, tell: (timeStampMs: Ms) => void): void {
    one.lastMs = Math.max(one.lastMs, timeStampMs);
    const { lastMs } = one;
    this.wait(lastMs, () => tell(lastMs));
  }

  private wait(timeStampMs: Ms, tell: () => void): void {
    this.waiting.push({ timeStampMs, tell });
    this.waiting.sort((one, other) => one.timeStampMs - other.timeStampMs);
  }

  private tellUntil(untilMs: Ms): void {
    while (this.waiting[0] !== undefined && this.waiting[0].timeStampMs <= untilMs)
      this.waiting.shift()?.tell();
  }
}
