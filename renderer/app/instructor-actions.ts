import type { ChartSnapshot } from '../../machines/drill-driver.ts';
import { STANCES, type Stance, type Technique } from '../../machines/journal.ts';
import { actionWords } from '../../machines/words/screen-floor.ts';
import type { InstructorKey } from '../adapters/key-uses.ts';
import type { CallRequest } from './drill-session.ts';

/** What one of the instructor's keys does now. */
export type InstructorAction = { key: InstructorKey; label: string; request: CallRequest };

/** The keys that call something, in the order they stand on the screen. Key 0 changes the view. */
export function instructorActions(
  chart: ChartSnapshot,
  people: { A: string; B: string },
): InstructorAction[] {
  const { context } = chart;
  const { called } = context;
  const words = actionWords(context, people);
  const isChecking = chart.matches({ stage: 'checking' });
  const isResting = chart.matches({ stage: 'resting' });
  const technique: Technique = called.technique === 'two-thumb' ? 'two-finger' : 'two-thumb';
  const stance = nextStance(called.stance);
  return [
    { key: '1', label: words.begin, request: { call: 'begin' } },
    { key: '2', label: words.swap, request: { call: 'swap' } },
    { key: '3', label: words.taken, request: { call: 'taken' } },
    { key: '4', label: words.technique(technique), request: { call: 'technique', technique } },
    { key: '5', label: words.stance(stance), request: { call: 'stance', stance } },
    {
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
  ];
}

function nextStance(stance: Stance): Stance {
  return STANCES[(STANCES.indexOf(stance) + 1) % STANCES.length] ?? 'foot-end';
}
