import type { NoFigure } from '../scoring/figure.ts';
import type { SwitchCheck, SwitchFigures } from '../switches/switch-check.ts';
import { formatNumber } from './format.ts';

/** Words of the switch check: how good the two switches are. */
export const SWITCH_CHECK_WORDS = {
  title: 'Measure the switches',
  why: 'A minute, by one person with a bare hand. The figures follow as you press; what is not known yet says why.',
  steps: [
    'Press each switch twenty times, unevenly, as presses come.',
    'Tap each ten times, as shortly as you can.',
    'Hold each down for over a second.',
    'Press both at once with one object, ten times: a book’s edge, or a ruler laid across.',
  ],
  chest: 'Chest switch',
  airway: 'Airway switch',
  presses: 'Presses seen',
  step: 'Time step of its device',
  bounce: 'Longest bounce',
  repeat: 'Repeats while held',
  release: 'Shortest tap it shows',
  slow: 'slow to let go: press lengths and clashes are its own',
  offset: 'Between the two, pressed at once',
  limit: 'Bounce taken out of a drill, up to',
  keep: 'Keep these figures',
  keepNote: 'What was not looked for this time stays as it was found before.',
  nothingYet: 'Nothing is found yet.',
  again: 'Start again',
  back: 'Back to Set-up',
  figure: 'Figure',
} as const;

/** One row of the check's table. */
export type SwitchCheckLine = { label: string; chest: string; airway: string };

/** What the check has found of each switch so far. */
export function switchCheckLines(
  { switches: [chest, airway] }: SwitchCheck,
  presses: { chest: number; airway: number },
): SwitchCheckLine[] {
  const row = (label: string, text: (figures: SwitchFigures) => string): SwitchCheckLine => ({
    label,
    chest: text(chest),
    airway: text(airway),
  });
  return [
    { label: SWITCH_CHECK_WORDS.presses, chest: String(presses.chest), airway: String(presses.airway) },
    row(SWITCH_CHECK_WORDS.step, ({ step }) =>
      'reason' in step ? reason(step) : ms(step.stepMs, step.errorMs),
    ),
    row(SWITCH_CHECK_WORDS.bounce, ({ bounce }) =>
      'reason' in bounce
        ? reason(bounce)
        : bounce.longestMs === 0
          ? 'none'
          : ms(bounce.longestMs, bounce.errorMs),
    ),
    row(SWITCH_CHECK_WORDS.repeat, ({ autoRepeat }) => repeatWords(autoRepeat)),
    row(SWITCH_CHECK_WORDS.release, ({ release }) => {
      if ('reason' in release) return reason(release);
      const shortest = ms(release.shortestMs, release.errorMs);
      return release.isSlow ? `${shortest}: ${SWITCH_CHECK_WORDS.slow}` : shortest;
    }),
  ];
}

/** "the airway switch is 7.9 ± 0.6 ms later (median of 10, middle half 1.2 ms)". */
export function offsetWords({ offset }: SwitchCheck): string {
  if ('reason' in offset) return reason(offset);
  const later = offset.medianMs < 0 ? 'chest' : 'airway';
  return `the ${later} switch is ${ms(Math.abs(offset.medianMs), offset.errorMs)} later (median of ${offset.n}, middle half ${ms(offset.spreadMs)})`;
}

export function limitWords({ bounceLimitMs }: SwitchCheck): string {
  return typeof bounceLimitMs === 'number' ? ms(bounceLimitMs, null, 0) : reason(bounceLimitMs);
}

function repeatWords(autoRepeat: SwitchFigures['autoRepeat']): string {
  if ('reason' in autoRepeat) return reason(autoRepeat);
  if (!autoRepeat.isRepeating) return 'no';
  if (typeof autoRepeat.afterMs !== 'number' || typeof autoRepeat.everyMs !== 'number') return 'yes';
  return `after ${ms(autoRepeat.afterMs, null, 0)}, every ${ms(autoRepeat.everyMs, null, 0)}`;
}

/** "7.9 ± 0.6 ms"; an error that would be written as 0 is left out. */
function ms(value: number, error: number | null = null, decimals = 1): string {
  const least = 0.5 / 10 ** decimals;
  if (value > 0 && value < least) return `under ${formatNumber(2 * least, decimals)} ms`;
  const size = formatNumber(value, decimals);
  return error === null || error < least ? `${size} ms` : `${size} ± ${formatNumber(error, decimals)} ms`;
}

function reason({ reason: why }: NoFigure): string {
  return why;
}
