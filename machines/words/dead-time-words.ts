import type { DeadTime, DeadTimeOf } from '../scoring/dead-time.ts';
import { formatNumber, formatSeconds } from './format.ts';

export const DEAD_TIME_WORDS = {
  title: 'Where there were no compressions',
  kind: 'Kind',
  count: 'How many',
  total: 'Together',
  longest: 'The longest',
  goal: 'Goal',
  source: 'Whose goal',
} as const;

export type DeadTimeLine = {
  kind: string;
  count: string;
  total: string;
  longest: string;
  goal: string;
  source: string;
};

/** Time without compressions by kind, with the goal for each. */
export function deadTimeLines({ pauses, handovers, checks }: DeadTime): DeadTimeLine[] {
  return [
    line('Pauses inside cycles', pauses, 'none longer than three quarters of a cycle'),
    line('Handovers', handovers, 'short; finishing the cycle first is good'),
    line('Heart-rate checks', checks, '10 s; never a fault'),
  ];
}

function line(kind: string, of: DeadTimeOf, goal: string): DeadTimeLine {
  return {
    kind,
    count: formatNumber(of.count, 0),
    total: of.count === 0 ? '–' : formatSeconds(of.totalMs),
    longest: of.longestMs === null ? '–' : formatSeconds(of.longestMs),
    goal,
    source: 'tool default',
  };
}
