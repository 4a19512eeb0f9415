/** Words of the walk through with an invented pair. */
export const WALK_WORDS = {
  title: 'Walk through',
  /** Stands on every step. */
  invented: 'Invented pair: nobody is pressing, and nothing is recorded.',
  stepOf: (step: number, steps: number) => `step ${step} of ${steps}`,
  goOn: 'Go on',
  done: 'To Set-up',
  leave: 'Leave the walk through',
  stage: 'What the screen shows',
} as const;

/** What a step shows, and from when until when of the invented drill; ms of that drill. */
export type WalkStep = {
  view: 'learners' | 'instructor' | 'debrief, ask' | 'debrief' | 'nothing';
  fromMs: number;
  untilMs: number;
  text: string;
};

/** The steps in their order. Times are those of `WALK_DRILL`; a test holds the sentences to what it then shows. */
export const WALK_STEPS: readonly WalkStep[] = [
  {
    view: 'learners',
    fromMs: 0,
    untilMs: 1000,
    text: 'Ada and Ben have a switch each. This is the learners’ view: who compresses, who ventilates, and nothing else until the instructor calls Begin.',
  },
  {
    view: 'learners',
    fromMs: 2600,
    untilMs: 14_000,
    text: 'The count, word by word: three compressions and a breath in two seconds. On the station it is heard too; here it is silent.',
  },
  {
    view: 'instructor',
    fromMs: 14_000,
    untilMs: 22_000,
    text: 'The instructor’s view of the same drill. A row a cycle: bars are compressions, pills are breaths. At 19 seconds the pair is steady, and the weaned count falls silent.',
  },
  {
    view: 'instructor',
    fromMs: 45_500,
    untilMs: 54_000,
    text: 'The instructor calls a swap, with key 2. It stands as “called” until the other pair of hands has taken over, and what the handover cost stands under “Last handover”.',
  },
  {
    view: 'debrief, ask',
    fromMs: 92_000,
    untilMs: 92_000,
    text: 'After Finish comes the Debrief. It begins with the pair’s own words: ask them first, the figures can wait.',
  },
  {
    view: 'debrief',
    fromMs: 92_000,
    untilMs: 92_000,
    text: 'Then the headline, one thing to try for each, and below them the sheet. After the swap Ada’s breath came too soon in every third cycle, so that is what is said to her.',
  },
  {
    view: 'nothing',
    fromMs: 92_000,
    untilMs: 92_000,
    text: 'Now yours: write two names, let both hear the count, and press Enter. Begin is 1, Finish is 9; “Cautions and help” is F9.',
  },
];
