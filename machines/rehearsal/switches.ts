import type { Binding, BodyLine, EdgeLine, Switch } from '../journal.ts';
import { nextChance, nextUniform, type RandomState, seedRandom } from '../statistics/random.ts';
import type { Ms, Share } from '../units.ts';
import type { Performance, Press } from './performance.ts';
import type { ScriptedCall } from './plans.ts';

/** What the switches add to the presses; both shares are of presses, 0 to 1. */
export type SwitchNoise = {
  /** Presses whose contacts open and close once more within 10 ms of going down (bounce). */
  bounceRate: Share;
  /** Presses during which the keyboard repeats the down edge (auto-repeat). */
  repeatRate: Share;
};
export const QUIET_SWITCHES: SwitchNoise = { bounceRate: 0, repeatRate: 0 };

export type SwitchInput = { seed: number; binding: Binding; stepMs: Ms; noise: SwitchNoise };

const NOISE_STREAM = 5;
/** The least time a switch is up between two presses: longer than the 25 ms under which a down is taken for bounce. Tool default. */
const LEAST_UP_MS: Ms = 40;
const BOUNCE_MS = { least: 1, most: 5 } as const;
/** A keyboard's repeat: after a quarter of a second, 30 a second. Usual settings; tool defaults. */
const REPEAT = { afterMs: 250, everyMs: 33 } as const;
/** From the last thing that happens to the drill's being closed. Tool default. */
const CLOSE_AFTER_MS: Ms = 1000;

/** A time as a switch with this step gives it, in ms with at most three decimals; step 0 is a whole microsecond. */
export function roundToStep(ms: Ms, stepMs: Ms): Ms {
  const stepped = stepMs === 0 ? ms : Math.round(ms / stepMs) * stepMs;
  return Math.round(stepped * 1000) / 1000;
}

/** The journal's lines but the first, in order, of what was pressed and called. A call stands before an edge of the same time. */
export function linesOf({ presses, calls }: Performance, input: SwitchInput): BodyLine[] {
  const random = seedRandom(input.seed, NOISE_STREAM);
  const edges = bySwitch(presses, input.binding).flatMap(([name, list]) =>
    apart(list).flatMap((press) => edgesOf(name, press, input, random)),
  );
  const lines: BodyLine[] = [...calls.map(callLine), ...edges].sort((a, b) => timeOf(a) - timeOf(b));
  const endMs = lines.length === 0 ? 0 : timeOf(lines.at(-1));
  return [...lines, { kind: 'close', at: roundToStep(endMs + CLOSE_AFTER_MS, 0) }];
}

function callLine({ atMs, ...call }: ScriptedCall): BodyLine {
  return { kind: 'call', at: roundToStep(atMs, 0), ...call };
}

function timeOf(line: BodyLine | undefined): Ms {
  return line?.at ?? 0;
}

function bySwitch(presses: readonly Press[], binding: Binding): [Switch, Press[]][] {
  const lists = new Map<Switch, Press[]>();
  for (const press of presses) {
    const place = press.role === 'compressor' ? 'chest' : 'airway';
    const name = binding === 'place' ? place : press.by;
    const list = lists.get(name);
    if (list === undefined) lists.set(name, [press]);
    else list.push(press);
  }
  return [...lists];
}

/** One switch's presses in order of time, none running into the next; one that leaves no room for itself is dropped. */
function apart(presses: readonly Press[]): Press[] {
  const inOrder = [...presses].sort((a, b) => a.onMs - b.onMs);
  return inOrder
    .map((press, k) => ({
      ...press,
      offMs: Math.min(press.offMs, (inOrder[k + 1]?.onMs ?? press.offMs + LEAST_UP_MS) - LEAST_UP_MS),
    }))
    .filter((press) => press.offMs - press.onMs > LEAST_UP_MS / 2);
}

function edgesOf(
  name: Switch,
  press: Press,
  { stepMs, noise }: SwitchInput,
  random: RandomState,
): EdgeLine[] {
  const edge = (ms: Ms, down: boolean): EdgeLine => ({
    kind: 'edge',
    at: roundToStep(ms, stepMs),
    switch: name,
    down,
  });
  const edges = [edge(press.onMs, true)];
  const isBouncing = nextChance(random, noise.bounceRate);
  const isRepeating = nextChance(random, noise.repeatRate);
  if (isBouncing) {
    const openMs = press.onMs + bounceMs(random);
    edges.push(edge(openMs, false), edge(openMs + bounceMs(random), true));
  }
  if (isRepeating) {
    for (let ms = press.onMs + REPEAT.afterMs; ms < press.offMs; ms += REPEAT.everyMs)
      edges.push(edge(ms, true));
  }
  edges.push(edge(press.offMs, false));
  return edges;
}

function bounceMs(random: RandomState): Ms {
  return BOUNCE_MS.least + (BOUNCE_MS.most - BOUNCE_MS.least) * nextUniform(random);
}
