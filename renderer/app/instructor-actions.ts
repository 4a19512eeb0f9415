import type { ChartSnapshot } from '../../machines/drill-driver.ts';
import type { InstructorKey } from '../../machines/instructor-keys.ts';
import { AIRWAYS, GUIDANCES, STANCES, type Technique } from '../../machines/journal.ts';
import { CYCLE_MS, SLOW_CYCLE_MS } from '../../machines/pattern.ts';
import { actionWords } from '../../machines/words/screen-floor.ts';
import type { CallRequest } from './drill-session.ts';

/** What one of the instructor's keys does now. */
export type InstructorAction = { key: InstructorKey; label: string; request: CallRequest };

/** The keys that call something, in the order they stand on the screen. Key 0 changes the view; key * opens the heart rate's entry. */
export function instructorActions(
  chart: ChartSnapshot,
  people: { A: string; B: string },
): InstructorAction[] {
  const { context } = chart;
  const { called } = context;
  const words = actionWords(context, people);
  const isChecking = chart.matches({ stage: 'checking' });
  const isNotBegun = chart.matches({ stage: 'notBegun' });
  const isResting = chart.matches({ stage: 'resting' });
  const technique: Technique = called.technique === 'two-thumb' ? 'two-finger' : 'two-thumb';
  const stance = nextOf(STANCES, called.stance);
  const guidance = nextOf(GUIDANCES, context.guidance);
  const airway = nextOf(AIRWAYS, context.airway);
  const isSlow = context.cycleMs > CYCLE_MS;
  return [
    { key: '1', label: words.begin, request: { call: 'begin' } },
    { key: '2', label: words.swap, request: { call: 'swap' } },
    { key: '3', label: words.taken, request: { call: 'taken' } },
    { key: '4', label: words.technique(technique), request: { call: 'technique', technique } },
    { key: '5', label: words.stance(stance), request: { call: 'stance', stance } },
    isNotBegun
      ? { key: '6', label: words.beginVentilating, request: { call: 'begin', stage: 'ventilation' } }
      : {
          key: '6',
          label: isChecking ? words.checked : words.check,
          request: { call: isChecking ? 'checked' : 'check' },
        },
    {
      key: '7',
      label: isResting ? words.resume : words.rest,
      request: { call: isResting ? 'resume' : 'rest' },
    },
    { key: '8', label: words.undo, request: { call: 'undo' } },
    { key: '9', label: words.finish, request: { call: 'finish' } },
    ...(chart.matches({ stage: 'finished' })
      ? []
      : [
          { key: '-', label: words.guidance(guidance), request: { call: 'guidance', guidance } } as const,
          {
            key: '=',
            label: words.tempo(isSlow ? 'usual' : 'slow'),
            request: { call: 'tempo', cycleMs: isSlow ? CYCLE_MS : SLOW_CYCLE_MS },
          } as const,
          { key: '/', label: words.airway(airway), request: { call: 'airway', airway } } as const,
        ]),
  ];
}

/** The one after it, and after the last the first. */
function nextOf<T extends string>(choices: readonly T[], one: T): T {
  return choices[(choices.indexOf(one) + 1) % choices.length] ?? one;
}
