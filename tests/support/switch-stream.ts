import type { Switch } from '../../machines/journal.ts';
import { nextNormal, nextUniform, type RandomState, seedRandom } from '../../machines/statistics/random.ts';
import type { SwitchStamp } from '../../machines/switches/contacts.ts';

/** A device whose faults are known: what a switch check should find. All in ms. */
export type Device = {
  /** How often it looks at its contacts; 0: an edge is told when it happens. */
  pollMs: number;
  /** Sd of what stamps are off. */
  jitterMs: number;
  /** Every stamp is so much late. */
  lateMs: number;
  /** The contacts open for up to so long after closing, and close again for as long after opening; 0: clean. */
  bounceMs: number;
  /** The contacts stay closed so long after the finger has gone. */
  stickyMs: number;
  /** Auto-repeat: after how long, and how often; null: none. */
  repeat: { afterMs: number; everyMs: number } | null;
  /** The stamps are rounded to this, as a page's clock does. */
  clockMs: number;
};
export const CLEAN: Device = {
  pollMs: 0,
  jitterMs: 0,
  lateMs: 0,
  bounceMs: 0,
  stickyMs: 0,
  repeat: null,
  clockMs: 0.1,
};

/** A press as a finger makes it. */
export type Tap = { onMs: number; offMs: number };

/** So many presses with people's irregularity, from a time on. */
export function tapsOf(random: RandomState, count: number, fromMs = 1000, heldMs = 120): Tap[] {
  let atMs = fromMs;
  return Array.from({ length: count }, () => {
    const onMs = atMs;
    const offMs = onMs + heldMs + Math.abs(30 * nextNormal(random));
    atMs = offMs + 180 + 60 * Math.abs(nextNormal(random));
    return { onMs, offMs };
  });
}

/** The stamps of one switch of a device, in order. */
export function stampsOf(
  random: RandomState,
  name: Switch,
  taps: readonly Tap[],
  device: Device,
): SwitchStamp[] {
  const phaseMs = device.pollMs * nextUniform(random);
  const stamps: SwitchStamp[] = [];
  let last = Number.NEGATIVE_INFINITY;
  const put = (ms: number, down: boolean, isRepeat: boolean) => {
    const late = ms + device.lateMs + device.jitterMs * nextNormal(random);
    const atMs = Math.max(last, Math.round(late / device.clockMs) * device.clockMs);
    last = atMs;
    stamps.push({
      switch: name,
      down,
      atMs: Math.round(atMs * 1000) / 1000,
      ...(isRepeat ? { isRepeat } : {}),
    });
  };
  for (const tap of taps) {
    const seen = polled(edgesOf(random, tap, device), phaseMs, device.pollMs);
    for (const [index, { ms, down }] of seen.entries()) {
      put(ms, down, false);
      const nextMs = seen[index + 1]?.ms ?? ms;
      if (!down || device.repeat === null) continue;
      for (let at = ms + device.repeat.afterMs; at < nextMs; at += device.repeat.everyMs) put(at, true, true);
    }
  }
  return stamps;
}

/** Stamps of both switches in order of time. */
export function together(...streams: readonly (readonly SwitchStamp[])[]): SwitchStamp[] {
  return streams.flat().sort((one, other) => one.atMs - other.atMs);
}

export function randomFor(seed: number): RandomState {
  return seedRandom(seed, 40);
}

type Edge = { ms: number; down: boolean };

function edgesOf(random: RandomState, { onMs, offMs }: Tap, { bounceMs, stickyMs }: Device): Edge[] {
  const upMs = offMs + stickyMs;
  if (bounceMs === 0) {
    return [
      { ms: onMs, down: true },
      { ms: upMs, down: false },
    ];
  }
  const some = () => bounceMs * (0.3 + 0.7 * nextUniform(random));
  const openMs = onMs + some();
  const closeMs = upMs + some();
  return [
    { ms: onMs, down: true },
    { ms: openMs, down: false },
    { ms: openMs + some(), down: true },
    { ms: upMs, down: false },
    { ms: closeMs, down: true },
    { ms: closeMs + some(), down: false },
  ];
}

/** What a device sees that looks only so often: a change and back between two looks is not seen. */
function polled(edges: readonly Edge[], phaseMs: number, pollMs: number): Edge[] {
  if (pollMs === 0) return [...edges];
  const seen: Edge[] = [];
  for (const { ms, down } of edges) {
    const at = phaseMs + Math.ceil((ms - phaseMs) / pollMs) * pollMs;
    if (seen.at(-1)?.ms === at) seen.pop();
    else seen.push({ ms: at, down });
  }
  return seen;
}
