import type { Ms } from '../../machines/units.ts';
import { axisTravel, isDownAt } from './pad-controls.ts';

type Rest = -1 | 0 | 1;
type AxisPress = { rest: Rest; towards: -1 | 1 };
/** Takes what an axis shows now; tells a press, or a movement of which nobody knows whether it is one. */
export type AxisWatch = (value: number, nowMs: Ms) => AxisPress | 'rest-unknown' | null;

/** So far an axis has to go to have moved, half a stick's way or a quarter of a trigger's (tool default). */
const MOVED = 0.5;
/** So long an axis has to be let go for its place to be its rest: longer than people press to show a switch (tool default). */
const REST_MS: Ms = 1000;

/** An axis rests in the middle or at an end. */
export function restOf(value: number): Rest {
  if (value > 0.75) return 1;
  return value < -0.75 ? -1 : 0;
}

/** For an axis whose rest is known; what of it is down at first, in whichever way, has to come up before it is a press. */
export function watchFromRest(rest: Rest, first: number): AxisWatch {
  const pressOf = (value: number): AxisPress => ({ rest, towards: value >= rest ? 1 : -1 });
  let isDown = isDownAt(axisTravel(first, pressOf(first)), false);
  return (value) => {
    const press = pressOf(value);
    const wasDown = isDown;
    isDown = isDownAt(axisTravel(value, press), wasDown);
    return isDown && !wasDown ? press : null;
  };
}

/**
 * For an axis that may have been pressed when it was first seen. No first movement is a press: it may be a release. Only one away
 * from where the axis was for a second, and longer than in the place before, is.
 */
export function watchForRest(first: number, firstMs: Ms): AxisWatch {
  let place = first;
  let sinceMs = firstMs;
  let way = 0;
  let stayBeforeMs: Ms | null = null;
  return (value, nowMs) => {
    const step = value - place;
    const isGoingOn = step * way > 0;
    if (isGoingOn) place = value;
    if (isGoingOn || Math.abs(step) < MOVED) return null;
    const stayMs = nowMs - sinceMs;
    const wasRest = stayBeforeMs !== null && stayMs >= REST_MS && stayMs > stayBeforeMs;
    const press: AxisPress = { rest: restOf(place), towards: step > 0 ? 1 : -1 };
    way = press.towards;
    place = value;
    sinceMs = nowMs;
    stayBeforeMs = stayMs;
    return wasRest ? press : 'rest-unknown';
  };
}
