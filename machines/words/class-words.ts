import type { NameNotice } from '../class/names.ts';
import type { Group } from '../class/turn.ts';
import type { ClassLimit, ClassTurns, PlannedTurn } from '../class/turns.ts';
import type { UnledOfPerson } from '../class/unled.ts';
import { formatClock } from './format.ts';

export const CLASS_WORDS = {
  title: 'Class',
  next: 'Next',
  rest: 'waits',
  extra: 'extra turn',
  station: (number: number) => `Station ${number}`,
  turn: (number: number) => `Turn ${number}`,
  roles: { chest: 'chest', airway: 'airway', observer: 'observer' },
  notYetUnled: 'Has not yet compressed unled',
  allUnled: 'Everyone here has compressed unled.',
  roleNote: 'Roles are for the whole turn. Who compresses in this one has the airway, or looks, in another.',
} as const;

/** What was done to pasted names. */
export function nameNoticeWords(notice: NameNotice): string {
  switch (notice.kind) {
    case 'same name':
      return `There is a ${notice.name} already: this one is “${notice.as}”. Write a surname, or take one out if it is the same person.`;
    case 'cut':
      return `A name was too long and was cut: “${notice.name}”.`;
    case 'one comma in every line':
      return `Every line has one comma, as in “${notice.example}”: each was read as two people. Write the name without a comma if it is one.`;
    case 'too many':
      return `There is room for no more people: left out ${notice.leftOut.join(', ')}.`;
  }
}

export function limitWords(limit: ClassLimit): string | null {
  switch (limit) {
    case null:
      return null;
    case 'nobody':
      return 'Nobody is here yet.';
    case 'one person':
      return 'One person alone has no turn: it takes two.';
    case 'two people have one partner each':
      return 'Two people change roles with each other: two partners each are not possible.';
  }
}

/** "3 turns of 8 minutes, 24 minutes in all; stations 3 and 4 stay empty". */
export function turnsWords({ turns, turnMinutes, stations }: ClassTurns): string {
  const count = turns.length === 1 ? '1 turn' : `${turns.length} turns`;
  const total = turns.length * turnMinutes;
  const length = `${count} of ${turnMinutes} ${minutesWord(turnMinutes)}, ${total} ${minutesWord(total)} in all`;
  if (stations.empty === 0) return length;
  const empty = Array.from({ length: stations.empty }, (_, index) => String(stations.used + index + 1));
  const last = empty.at(-1) ?? '';
  if (empty.length === 1) return `${length}; station ${last} stays empty`;
  return `${length}; stations ${empty.slice(0, -1).join(', ')} and ${last} stay empty`;
}

/** "Station 2: chest Ada, airway Ben, observer Cleo". */
export function groupWords({ station, chest, airway, observer }: Group): string {
  const { roles } = CLASS_WORDS;
  const looks = observer === null ? '' : `, ${roles.observer} ${observer}`;
  return `${CLASS_WORDS.station(station)}: ${roles.chest} ${chest}, ${roles.airway} ${airway}${looks}`;
}

/** A turn for the printed list: its number and minute, a line a station, and who waits. */
export function turnLines({ number, startMinutes, groups, rest, isExtra }: PlannedTurn): string[] {
  const extra = isExtra ? ` (${CLASS_WORDS.extra})` : '';
  return [
    `${CLASS_WORDS.turn(number)}, from minute ${startMinutes}${extra}`,
    ...groups.map(groupWords),
    ...(rest.length === 0 ? [] : [`${CLASS_WORDS.rest}: ${rest.join(', ')}`]),
  ];
}

/** "Ada", or "Ben (1:04 on a rhythm rig)". */
export function notYetUnledWords({ name, rhythmMs }: UnledOfPerson): string {
  return rhythmMs === 0 ? name : `${name} (${formatClock(rhythmMs)} on a rhythm rig)`;
}

function minutesWord(count: number): string {
  return count === 1 ? 'minute' : 'minutes';
}
