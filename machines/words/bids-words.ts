import { CALL_WORDS } from './english.ts';
import { COUNTS_LEVELS, type ColumnWords, EXPORT_CAUTIONS, PRESS_COLUMN_WORDS } from './export-columns.ts';

/** A column of an events file as its sidecar describes it. */
export type BidsColumn = {
  LongName: string;
  Description: string;
  Levels?: Readonly<Record<string, string>>;
  Units?: string;
};

const BIDS_CLOCK = 'Times are seconds on the drill’s own clock, which was 0 when the drill opened.';

/** The columns of an events file, in their order; `n/a` stands where there is nothing to say. */
export const EVENT_COLUMNS = {
  onset: {
    LongName: 'Onset',
    Description: `When the switch went down, or the call was given. ${BIDS_CLOCK} ${EXPORT_CAUTIONS.purpose} ${EXPORT_CAUTIONS.newlyBorn}`,
    Units: 's',
  },
  duration: {
    LongName: 'Length',
    Description:
      'From a press’s onset to its release; n/a where the release was lost or never came; 0 for a call.',
    Units: 's',
  },
  trial_type: {
    LongName: 'What it was',
    Description: `A press by its role, or a call. ${EXPORT_CAUTIONS.timing}`,
    Levels: {
      compression: 'a press by the one who compresses',
      breath: 'a press by the one who gives the breaths',
      call: 'something the instructor, or the plan, called',
    },
  },
  call: {
    LongName: 'Call',
    Description: 'What was called; calls that were taken back or took no effect are left out.',
    Levels: CALL_WORDS,
  },
  counts: {
    LongName: 'Counts in',
    Description: 'What the press counts in.',
    Levels: COUNTS_LEVELS,
  },
  bout: described(PRESS_COLUMN_WORDS.bout),
  cycle: described(PRESS_COLUMN_WORDS.cycle),
  place: described(PRESS_COLUMN_WORDS.place),
  person: described(PRESS_COLUMN_WORDS.person),
  switch: described(PRESS_COLUMN_WORDS.switch),
  guidance: described(PRESS_COLUMN_WORDS.guidance),
  ideal_cycle: {
    LongName: 'Ideal cycle',
    Description: PRESS_COLUMN_WORDS.ideal_cycle_ms.meaning,
    Units: 's',
  },
  technique: described(PRESS_COLUMN_WORDS.technique),
  stance: described(PRESS_COLUMN_WORDS.stance),
  rig: described(PRESS_COLUMN_WORDS.rig),
  beat_asynchrony: {
    LongName: 'To the heard beat',
    Description: PRESS_COLUMN_WORDS.beat_asynchrony_ms.meaning,
    Units: 's',
  },
} as const satisfies Record<string, BidsColumn>;

export type EventColumn = keyof typeof EVENT_COLUMNS;

/** The README that goes with a folder of events files. */
export const BIDS_README = [
  'Drills of pairs who practise three compressions and a breath on a newborn manikin, a subject a drill.',
  'A subject’s label is made from the drill’s id, a session’s from the time it was opened; no name is in any file.',
  '',
  EXPORT_CAUTIONS.purpose,
  EXPORT_CAUTIONS.newlyBorn,
  EXPORT_CAUTIONS.timing,
  EXPORT_CAUTIONS.tolerances,
  `A rhythm rig is not a manikin. ${EXPORT_CAUTIONS.rhythm} Never pool the two.`,
  '',
].join('\n');

function described({ title, meaning, levels }: ColumnWords): BidsColumn {
  const column = { LongName: title, Description: meaning };
  return levels === undefined ? column : { ...column, Levels: levels };
}
