import { CAUTIONS } from './english.ts';

/** The key of cautions and help: no F-key can be a learner's switch or a call, and the ticks have F1 to F7. */
export const HELP_KEY = 'F9';

export const HELP_WORDS = {
  open: 'Cautions and help',
  title: 'Cautions and help',
  cautions: 'Cautions',
  close: 'Close',
  closeKey: 'Esc',
  walk: 'Two-minute walk through',
  walkNote: 'An invented pair’s drill, from the first “one” to the Debrief. Nothing of it is recorded.',
  beside: 'The drill goes on: switches and your keys work as before.',
  other: 'The other screens',
} as const;

/** What every station says before anything else, once; and again on the help page, for as long as it stands. */
export const ALL_CAUTIONS: readonly string[] = [
  CAUTIONS.purpose,
  CAUTIONS.newlyBorn,
  CAUTIONS.rhythm,
  'It knows timing alone. Chest rise, depth, full release, hand position, mask seal and a firm surface are for an instructor who watches.',
  CAUTIONS.technique,
];

export const FIRST_RUN_WORDS = {
  title: 'Before the first drill',
  understood: 'Understood',
  after: 'They stay at hand on every screen, under “Cautions and help” (F9).',
} as const;

export const HELP_PAGES = ['setUp', 'floor', 'learners', 'debrief', 'ledger', 'class'] as const;
export type HelpPage = (typeof HELP_PAGES)[number];
export type HelpText = { title: string; points: readonly string[] };

export const HELP: Record<HelpPage, HelpText> = {
  setUp: {
    title: 'Set-up',
    points: [
      'Write two names. Enter starts the drill with all that was chosen last.',
      'Once a day: “Bind both by pressing them”, and with a manikin “Check the rig”. Without that check a drill is a rhythm drill.',
      'First contact: the slow tempo, and “Hear the count” and “Speak it without hands” before anybody touches a switch.',
      'Count: led is given throughout, weaned falls silent when the pair is steady, unled is never given.',
      'A plan makes the calls in its order; you can make any call yourself at any moment.',
      'F2 opens the learners’ window for a second screen. “All settings and their defaults” lists what this station remembers.',
    ],
  },
  floor: {
    title: 'Floor, the instructor’s view',
    points: [
      'Presses count from 1, Begin, until 9, Finish. Every key with what it does now stands at the side.',
      'A swap, a technique or a stance that you call stands as “called” until the hands have done it.',
      '8 undoes the last call. 0 changes to the learners’ view and back. Enter goes to a plan’s next leg.',
      'A heart rate has the key beside the 1: type the number, Enter gives it, Escape leaves it. F1 to F7 tick what you saw, on a manikin.',
      'After 9, Enter closes the drill and shows the Debrief.',
      'If keys were changed on Set-up, the keys at the side say so; the number pad always calls as it is printed.',
    ],
  },
  learners: {
    title: 'Floor, the learners’ view',
    points: [
      'It shows the count while it is given, what was called and is not done yet, and one hint at a time. Else nothing: eyes belong on the chest.',
      'Help does not open over it. 0 shows the instructor’s view, where it does.',
      'The learners’ language is chosen on Set-up: “What the learners read and hear”.',
    ],
  },
  debrief: {
    title: 'Debrief',
    points: [
      'Ask them first. Enter then shows the figures.',
      'The headline, one thing to try for each person, and the sheet: a row a cycle, bars are compressions, pills are breaths.',
      '± is what a figure’s last digits are worth. Figures with few cycles say so or are left out.',
      'A cycle that a switch missed: choose its row on the sheet by arrow keys, then M leaves it out, and M again takes it back.',
      'Below the fold are each learner’s page, dead time, all figures and printing, with or without names.',
      'The course’s standard says met, not yet or not assessed of each learner. The instructor decides, and signs by name.',
    ],
  },
  ledger: {
    title: 'Ledger',
    points: [
      'Every drill on this station, the newest first. The fields above the list narrow it down as you type.',
      'A drill opens in the Debrief and comes back here. Each can have a title, be put away, get a wrong name put right, or be removed.',
      'A person’s page has their figures drill by drill, each with its ±, by role. Cold minutes stand apart; led and slowed cycles are in none.',
      'A figure belongs to the pair: nobody is ranked.',
      'Removing a person leaves “someone” in their place, and then searches the folder for the name, so that you can see that it is gone. Copies of the folder made before are not touched.',
    ],
  },
  class: {
    title: 'Class',
    points: [
      'Paste the names, one a line. The turns give everyone both roles, with two partners at least where there are three or more.',
      'Enter says that the turn was held, and shows the next. Who comes late or leaves is added or taken out at any time: the turns still to come are planned anew.',
      '“Take these two names” fills them in on Set-up.',
      'Who has not yet compressed unled is known from this station’s drills of today alone.',
    ],
  },
};
