import type { Rig } from '../journal.ts';
import type { LedgerFilter } from '../ledger/filter.ts';
import type { LedgerEntry, Role } from '../ledger/ledger-entry.ts';
import type { LeftAlone, Removal } from '../ledger/ledger-requests.ts';
import { MOST_DRAWN, type PrimaryFigure } from '../ledger/trend-drawing.ts';
import { GUIDANCE_WORDS, ofCycles, RIG_WORDS, TECHNIQUE_WORDS } from './english.ts';
import { formatNumber } from './format.ts';
import { LEDGER_WORDS } from './ledger-words.ts';

/** Words of the Ledger's list. */
export const LEDGER_LIST_WORDS = {
  title: 'Ledger',
  intro: 'Every drill on this station, newest first. No list here is ordered by a figure.',
  back: 'Back to Set-up',
  filter: 'What is shown',
  text: 'Words in the names, title or plan',
  person: 'Person',
  plan: 'Plan',
  rig: 'Rig',
  technique: 'Technique',
  from: 'From',
  to: 'To',
  archived: 'Archived',
  any: 'any',
  all: 'Show all again',
  pageOf: (name: string) => `${name}’s page`,
  empty: 'No drill is kept here yet.',
  noMatch: 'No drill is like that.',
  looking: 'Looking …',
  count: (total: number, shown: number) =>
    shown < total ? `${drillCount(total)}, the last ${shown} of them shown` : drillCount(total),
  unread: (count: number) =>
    count === 1
      ? 'One more journal is still to be read; the list grows by itself.'
      : `${count} more journals are still to be read; the list grows by itself.`,
  more: 'Show more',
  leftAlone: (count: number) => (count === 1 ? 'One file was left alone' : `${count} files were left alone`),
  leftAloneLine: ({ fileName, why }: LeftAlone) => `${fileName} ${LEDGER_WORDS[why]}.`,
  change: 'Change',
  done: 'Close',
  of: (words: string, names: string, when: string) => `${words}: ${names}, ${when}`,
  drillTitle: 'Title',
  saveTitle: 'Save the title',
  archive: 'Archive',
  unarchive: 'Take out of the archive',
  names: 'Put right a wrong name',
  namesNote: 'Notes of a drill stay as they were written.',
  nameOf: (name: string) => `${name} is to be`,
  inThis: 'In this drill',
  inAll: 'In every drill',
  inThisOf: (name: string) => `Put right ${name} in this drill`,
  inAllOf: (name: string) => `Put right ${name} in every drill`,
  remove: 'Remove this drill',
  removeAsk: 'Remove this drill and its journal for good?',
  removeYes: 'Remove it',
  removeNo: 'Keep it',
  search: 'Is a name still in the folder?',
  searchNote: 'Searches every file that this station keeps, in any capitals.',
  searchName: 'Name to search for',
  searchDo: 'Search the folder',
  searching: 'Searching …',
  titled: 'The title is saved.',
  archivedNow: 'The drill is archived.',
  unarchivedNow: 'The drill is out of the archive.',
  renamed: (count: number) => `The name is put right in ${drillCount(count)}.`,
  removed: 'The drill is removed.',
} as const;

export const ARCHIVED_WORDS: Record<LedgerFilter['archived'], string> = {
  without: 'left out',
  with: 'too',
  only: 'alone',
};

/** Words of a person's page. */
export const PERSON_WORDS = {
  back: 'Back to the list',
  drills: 'Drills',
  notInTrend: 'In no trend',
  last: 'Last practised',
  due: 'Due',
  interval: 'The course’s interval, in days',
  saveInterval: 'Save the interval',
  intervalWrong: 'A whole number of days from 1 to 3650, or nothing.',
  noInterval: 'the course’s interval is not set',
  noManikin: 'no manikin drill yet',
  never: 'never',
  cold: 'Cold minutes, apart',
  trend: 'Without a count, at the usual tempo',
  nothing: 'No such drill.',
  table: (count: number) => `The same as a table: ${drillCount(count)}`,
  when: 'Opened',
  partner: 'With',
  cycles: 'Coordinated',
  technique: 'Technique',
  days: (first: string, last: string) => (first === last ? first : `${first} to ${last}`),
  drawing: (figure: string, of: string, days: string) =>
    `${figure}. ${of}, ${days}. The table below has the same.`,
  drawnNote: 'A step is a drill, by the standard tolerance; a line stands where another day begins.',
  latestNote: `The drawing has the last ${MOST_DRAWN}; the table has all.`,
  beyondNote: 'An arrow is beyond the drawing; the table has its figure.',
  openNote: 'An open mark: two-finger was used. The bar is the ±.',
  remove: (name: string) => `Remove ${name} from this station`,
  removeWhat:
    'Every journal then says “someone” in place of the name. The presses stay, since the partner’s figures are made of both. Notes of these drills are emptied, and a drill in which nobody is left is taken away. This cannot be undone.',
  removeNotReached:
    'Back-ups and copies elsewhere are not touched, nor what a disk keeps of files it has let go.',
  typeName: (name: string) => `Type “${name}” to go on`,
  removeDo: 'Remove the person',
  removing: 'Removing, and searching the folder …',
  notTheName: 'That is not the name.',
  removedTitle: (name: string) => `${name} is removed`,
  removal: ({ drills, removedDrills }: Removal) =>
    `${drillCount(drills)} without the name now; ${drillCount(removedDrills)} in which nobody was left taken away.`,
} as const;

export const PRIMARY_FIGURE_WORDS: Record<PrimaryFigure, string> = {
  coordinatedShare: 'Coordinated cycles, %',
  cycleJitterMs: 'Cycle jitter, ms',
  breathLagRatio: 'Breath lag ratio, ideal 1',
};

/** "12 drills". */
export function drillCount(count: number): string {
  return count === 1 ? '1 drill' : `${count} drills`;
}

/** "manikin · two-thumb and two-finger · Cold minute · 20 of 29 cycles coordinated". */
export function entryFacts({ rig, techniques, plan, cycles }: LedgerEntry): string {
  return [
    RIG_WORDS[rig],
    techniques.map((technique) => TECHNIQUE_WORDS[technique]).join(' and '),
    ...(plan === null ? [] : [plan]),
    cycles.total === 0 ? 'no cycle' : `${ofCycles(cycles.coordinated, cycles.total)} coordinated`,
  ].join(' · ');
}

/** What is particular about a drill: "led", "slowed", "cold", "archived", "not closed". */
export function entryMarks({ guidances, isSlowed, isCold, isArchived, isClosed }: LedgerEntry): string[] {
  return [
    ...guidances.filter((guidance) => guidance !== 'unled').map((guidance) => GUIDANCE_WORDS[guidance]),
    ...(isSlowed ? ['slowed'] : []),
    ...(isCold ? ['cold'] : []),
    ...(isArchived ? ['archived'] : []),
    ...(isClosed ? [] : ['not closed']),
  ];
}

export function roleTitle(role: Role, rig: Rig): string {
  return `As ${role}, ${RIG_WORDS[rig]} rig`;
}

/** "3 led or weaned, 0 slowed, 1 without a cycle". */
export function notInTrendWords({
  led,
  slowed,
  noCycle,
}: Record<'led' | 'slowed' | 'noCycle', number>): string {
  return `${led} led or weaned, ${slowed} slowed, ${noCycle} without a cycle`;
}

/** The proof of a removal, or of a name that was never there. */
export function searchSentence(name: string, files: readonly string[]): string {
  const count = files.length === 1 ? '1 file' : `${files.length} files`;
  return `The whole folder was searched for “${name}”: ${count}${files.length === 0 ? '.' : ', left as they are:'}`;
}

/** A value of a drawing's axis. */
export function trendTick(figure: PrimaryFigure, value: number): string {
  if (figure === 'coordinatedShare') return formatNumber(100 * value, 0);
  return figure === 'cycleJitterMs'
    ? formatNumber(value, value < 10 && value > 0 ? 1 : 0)
    : formatNumber(value, 1);
}
