import { CLASS_WORDS } from './class-words.ts';

/** Words of the class page, its printed list, and the way to it from Set-up. */
export const CLASS_PAGE_WORDS = {
  toClass: 'Class: names and turns',
  back: 'Back to Set-up',
  intro: 'Turns of three over the stations: everyone holds both roles, with two partners at least.',
  opening: 'Opening the class …',
  again: 'Try again',
  names: 'Names, one a line',
  namesNote: 'Several on a line are told apart by commas, semicolons or tabs.',
  midTurn:
    'While a turn goes on, say first that it was held, then who left or came: the turns still to come are planned anew at once.',
  latecomers: 'Latecomers, one a line',
  add: 'Add these names',
  stations: 'Stations',
  minutes: 'Minutes a turn',
  here: (count: number) => `Here: ${count}`,
  left: 'Left',
  hereAgain: 'Here again',
  hasLeft: 'has left',
  takenOut: (name: string) => `${name} had no turn yet, and is taken out of the list.`,
  full: (most: number) => `${most} people are here: there is room for no more.`,
  of: (action: string, name: string) => `${action}: ${name}`,
  held: 'This turn was held',
  lasts: (minutes: number) => (minutes === 1 ? '1 minute' : `${minutes} minutes`),
  takeBack: (number: number) => `Take back turn ${number}`,
  takenBack: (number: number) => `Turn ${number} counts as not held.`,
  nowHeld: (number: number) => `Turn ${number} is held.`,
  take: 'Take these two names',
  allHad: 'Everyone here has had both roles and their partners. This is an extra turn.',
  toCome: 'The turns to come',
  heldTurns: (count: number) => (count === 1 ? '1 turn was held' : `${count} turns were held`),
  fromMinute: (minutes: number) => `from minute ${minutes}`,
  waits: (names: readonly string[]) => `${CLASS_WORDS.rest}: ${names.join(', ')}`,
  stationColumn: 'station',
  newClass: 'New class',
  newAsk: 'Take all names and turns off this list? The drills stay as they are.',
  newYes: 'Take them off',
  newNo: 'Keep them',
  notSaved: (reason: string) =>
    `Not on the disk: ${reason}. The class goes on here, and every change tries again.`,
  notOpened: (reason: string) => `No class can be shown: ${reason}.`,
  notWhole: (label: string, least: number, most: number) =>
    `${label}: a whole number, ${least} to ${most}. It stays as it was until then.`,
  people: 'People',
  print: 'Print the list',
  paperTitle: (from: number, to: number) => (from === to ? `Turn ${from}` : `Turns ${from} to ${to}`),
  printed: (when: string) => `Printed ${when}.`,
  paperNote: 'When somebody comes or leaves, the station’s screen has the turns as they then are.',
} as const;

/** Words on who has compressed unled, and on what is known of it. */
export const UNLED_WORDS = {
  title: 'Has not yet compressed unled today',
  none: 'Everyone here has compressed unled today.',
  known:
    'On a manikin, for one whole cycle or more. Known from this station’s own drills of today alone, by the names as they are written here: what was done at another station is not known.',
  reading: (read: number, of: number) => `Read so far: ${read} of today’s ${of} drills with these names.`,
  notListed: (reason: string) => `Not known: ${reason}.`,
  unread: (count: number) =>
    count === 1
      ? '1 drill of today cannot be read, and is not in this.'
      : `${count} drills of today cannot be read, and are not in this.`,
} as const;
