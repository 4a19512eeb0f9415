import type { Switch } from '../journal.ts';
import { type NoFigure, none } from '../scoring/figure.ts';
import type { Ms } from '../units.ts';
import { type AutoRepeat, autoRepeatOf } from './auto-repeat.ts';
import { type Bounce, bounceLimitMs, bounceOf } from './bounce.ts';
import { contactsOf, type SwitchStamp } from './contacts.ts';
import { offsetBetween, type SwitchOffset } from './offset.ts';
import { type Release, releaseOf } from './release.ts';
import { type TimeStep, timeStepOf } from './time-step.ts';

/** What a check found of one switch. Each has its own error, or says why it is not known. */
export type SwitchFigures = {
  name: Switch;
  step: TimeStep | NoFigure;
  bounce: Bounce | NoFigure;
  autoRepeat: AutoRepeat | NoFigure;
  release: Release | NoFigure;
};

export type SwitchCheck = {
  switches: readonly [SwitchFigures, SwitchFigures];
  /** How much later the second tells a press than the first. */
  offset: SwitchOffset | NoFigure;
  /** What the drill's `bounceMs` should be; null until both switches' bounce is known. */
  bounceLimitMs: Ms | NoFigure;
};

export type CheckedSwitch = {
  name: Switch;
  /** The step its source says it has: used where the stamps do not show one. */
  toldStepMs: Ms;
};

/**
 * Everything a check finds from its stamps so far, so that it can be asked for after each press. Single presses,
 * short taps, held presses and presses of both at once may come in any order. Tool defaults for a whole check:
 * twenty presses of each as they come, ten short taps, one held for over a second, ten with one object on both.
 */
export function checkSwitches(
  stamps: readonly SwitchStamp[],
  [first, second]: readonly [CheckedSwitch, CheckedSwitch],
): SwitchCheck {
  const one = figuresOf(stamps, first);
  const other = figuresOf(stamps, second);
  const bounces = [one.bounce, other.bounce].filter((bounce) => 'n' in bounce);
  return {
    switches: [one, other],
    offset: offsetBetween(
      stamps,
      [first.name, second.name],
      [stepOf(one.step, first), stepOf(other.step, second)],
    ),
    bounceLimitMs:
      bounces.length === 2 ? bounceLimitMs(bounces) : none('the bounce of both switches is not known yet'),
  };
}

function figuresOf(stamps: readonly SwitchStamp[], checked: CheckedSwitch): SwitchFigures {
  const { name } = checked;
  const own = stamps.filter((stamp) => stamp.switch === name);
  const contacts = contactsOf(own, name);
  const step = timeStepOf(own);
  const stepMs = stepOf(step, checked);
  return {
    name,
    step,
    bounce: bounceOf(contacts, stepMs),
    autoRepeat: autoRepeatOf(contacts, stepMs),
    release: releaseOf(contacts, stepMs),
  };
}

function stepOf(step: TimeStep | NoFigure, { toldStepMs }: CheckedSwitch): Ms {
  return 'stepMs' in step ? step.stepMs : toldStepMs;
}
