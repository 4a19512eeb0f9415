import type { PressCounts } from '../press-list.ts';
import type { Fault } from '../scoring/faults.ts';
import { CAUTIONS, FAULT_WORDS } from './english.ts';

/** A column of an exported table, explained. `unit` is empty for a column that has none. */
export type ColumnWords = {
  title: string;
  meaning: string;
  unit: '' | 'ms' | 'presses' | 'breaths' | 'pauses';
  type: 'text' | 'whole number' | 'number' | 'true or false';
  /** What can stand there, each explained; none where anything can. */
  levels?: Readonly<Record<string, string>>;
  /** What it means when nothing stands there. */
  emptyMeans: string;
  /** Where it comes from, and whose number it rests on. */
  source: string;
};

/** What every exported table says of itself; what a switch cannot know stands in no column. */
export const EXPORT_CAUTIONS = {
  purpose: CAUTIONS.purpose,
  newlyBorn: CAUTIONS.newlyBorn,
  timing:
    'Timing only: two switches tell when each press began and ended. Hand position, depth, full release, chest rise and mask seal are not measured, and nothing here stands for them.',
  tolerances: 'Every tolerance is a tool default, not a guideline’s.',
  rhythm: CAUTIONS.rhythm,
  clock: 'Times are milliseconds on the drill’s own clock, which was 0 when the drill opened.',
} as const;

const NEVER = 'never empty';
const JOURNAL = 'journal';
const WORKED_OUT = 'worked out from the journal';
const TOOL_DEFAULT = 'worked out from the journal; its limits are tool defaults';
const NOT_EXACT = 'the cycle was not three compressions and a breath';
const OUTSIDE = 'the press was in no bout';

export const COUNTS_LEVELS: Record<PressCounts, string> = {
  cycle: 'in a complete cycle, and so in the figures',
  bout: 'in a bout, but in no complete cycle: in no figure of cycles',
  stray: 'by the old compressor after a swap: counted, in no cycle',
  outside: 'before the first bout, between bouts or after the last: in no figure of cycles',
};

const ROLE_LEVELS = { compressor: 'compresses', ventilator: 'gives the breaths' };
const TECHNIQUE_LEVELS = {
  'two-thumb': 'two-thumb, the method of choice; timing alone cannot compare the techniques',
  'two-finger': 'two-finger',
};
const STANCE_LEVELS = {
  'foot-end': 'at the foot end',
  'head-end': 'at the head end',
  side: 'at the side',
};
const GUIDANCE_LEVELS = {
  led: 'a count is given throughout',
  weaned: 'the count falls silent once the pair is steady and returns when that is lost',
  unled: 'no count is given',
};
const RIG_LEVELS = {
  manikin: 'switches in a manikin, checked that day with this technique and stance, or so recorded',
  rhythm: CAUTIONS.rhythm,
};
const PERSON_LEVELS = { A: 'the person called A in the journal', B: 'the person called B in the journal' };
const YES_NO = { true: 'yes', false: 'no' };

type Rest = Partial<Omit<ColumnWords, 'title' | 'meaning'>>;
const text = (title: string, meaning: string, rest: Rest = {}): ColumnWords => ({
  title,
  meaning,
  unit: '',
  type: 'text',
  emptyMeans: NEVER,
  source: JOURNAL,
  ...rest,
});
const ms = (title: string, meaning: string, rest: Rest = {}): ColumnWords =>
  text(title, meaning, { unit: 'ms', type: 'number', source: WORKED_OUT, ...rest });
const whole = (title: string, meaning: string, rest: Rest = {}): ColumnWords =>
  text(title, meaning, { type: 'whole number', source: WORKED_OUT, ...rest });
const yesNo = (title: string, meaning: string, rest: Rest = {}): ColumnWords =>
  text(title, meaning, { type: 'true or false', levels: YES_NO, source: WORKED_OUT, ...rest });

const DRILL_ID = text(
  'Drill',
  `The drill’s id, a UUID. ${EXPORT_CAUTIONS.purpose} ${EXPORT_CAUTIONS.newlyBorn} ${EXPORT_CAUTIONS.timing} ${EXPORT_CAUTIONS.tolerances} ${EXPORT_CAUTIONS.clock}`,
);
const SHARED = {
  technique: text('Technique', 'How the chest is compressed, as it was called.', {
    levels: TECHNIQUE_LEVELS,
  }),
  stance: text('Stance', 'Where the compressor stands, as it was called.', { levels: STANCE_LEVELS }),
  rig: text('Rig', 'What the switches were on, for this technique and stance.', { levels: RIG_LEVELS }),
};

/** The columns of the presses, in their order. */
export const PRESS_COLUMN_WORDS = {
  drill_id: DRILL_ID,
  press: whole('Press', 'The press’s number in the drill, in order of onset, from 1.'),
  counts: text('Counts in', 'What the press counts in.', { levels: COUNTS_LEVELS, source: WORKED_OUT }),
  bout: whole('Bout', 'The bout’s number in the drill, from 1.', { emptyMeans: OUTSIDE }),
  cycle: whole('Cycle', 'The complete cycle’s number in its bout, from 1.', {
    emptyMeans: 'the press was in no complete cycle',
  }),
  place: whole('Place in the cycle', 'Which of the cycle’s compressions, or of its breaths, from 1.', {
    emptyMeans: 'the press was in no complete cycle',
  }),
  role: text(
    'Role',
    'The role whose press it is: a compressor’s is a compression, a ventilator’s a breath.',
    {
      levels: ROLE_LEVELS,
      source: WORKED_OUT,
    },
  ),
  person: text('Person', 'Who held that role; outside of bouts, who held it as it was called.', {
    levels: PERSON_LEVELS,
    source: WORKED_OUT,
  }),
  name: text('Name', 'That person’s name as it was typed in; their letter where names were left out.', {
    emptyMeans: 'no name was typed in',
  }),
  switch: text('Switch', 'The switch that was pressed.', {
    levels: {
      chest: 'the chest’s, whoever compresses',
      airway: 'the airway’s, whoever ventilates',
      A: 'the one that A keeps',
      B: 'the one that B keeps',
    },
  }),
  onset_ms: ms(
    'Onset',
    'When the switch went down, after clean-up; an offset between the switches is taken out where the journal says so.',
  ),
  release_ms: ms(
    'Release',
    'When the switch came up; where its release was lost or never came, when that was noticed.',
  ),
  length_ms: ms('Length', 'From onset to release.', { emptyMeans: 'the release was lost or never came' }),
  measured: yesNo('Measured', 'Was the release seen? If not, the press counts by its onset alone.'),
  guidance: text('Guidance', 'Guidance when the switch went down.', { levels: GUIDANCE_LEVELS }),
  ideal_cycle_ms: ms('Ideal cycle', 'T when the switch went down: a cycle’s length at that tempo.', {
    source: 'journal; 2000 ms follows from the guideline’s rates',
  }),
  technique: SHARED.technique,
  stance: SHARED.stance,
  rig: SHARED.rig,
  beat_asynchrony_ms: ms(
    'To the heard beat',
    'From the nearest heard beat of the press’s own name to the press, early negative. How late a loudspeaker itself is, is not in it.',
    { emptyMeans: `no such beat was heard within half a cycle, or ${NOT_EXACT}` },
  ),
} as const satisfies Record<string, ColumnWords>;

export type PressColumn = keyof typeof PRESS_COLUMN_WORDS;

/** The columns of the complete cycles, in their order. */
export const CYCLE_COLUMN_WORDS = {
  drill_id: DRILL_ID,
  bout: whole('Bout', 'The bout’s number in the drill, from 1.'),
  cycle: whole('Cycle', 'The complete cycle’s number in its bout, from 1.'),
  compressor: text('Compressor', 'Who compressed.', { levels: PERSON_LEVELS, source: WORKED_OUT }),
  ventilator: text('Ventilator', 'Who gave the breaths.', { levels: PERSON_LEVELS, source: WORKED_OUT }),
  technique: SHARED.technique,
  stance: SHARED.stance,
  rig: SHARED.rig,
  start_ms: ms('Start', 'Onset of its first compression.'),
  length_ms: ms('Length', 'From its start to the start of the next cycle in the same bout.'),
  ideal_cycle_ms: ms('Ideal cycle', 'T when it started: a cycle’s length at that tempo.', {
    source: 'journal; 2000 ms follows from the guideline’s rates',
  }),
  guidance: text('Guidance', 'Guidance when it started.', { levels: GUIDANCE_LEVELS }),
  guidance_changed: yesNo(
    'Guidance changed',
    'Was guidance called anew within it? Then it is left out of led against unled.',
  ),
  left_out: yesNo(
    'Left out',
    'Did the instructor say that the switch missed it? Then it is in no figure of the report.',
    { source: 'the instructor' },
  ),
  compressions: whole('Compressions', 'Compressions in it.', { unit: 'presses' }),
  breaths: whole('Breaths', 'Breaths in it.', { unit: 'presses' }),
  exact: yesNo('Exact', 'Was it three compressions and a breath?', {
    source: 'worked out from the journal; the ratio is the guideline’s',
  }),
  coordinated: yesNo('Coordinated', 'Was it exact, without a clash, and every press in its place?', {
    source: TOOL_DEFAULT,
  }),
  faults: text('Faults', 'What happened in it that is not as it should be; several are joined by "; ".', {
    levels: FAULT_WORDS satisfies Record<Fault, string>,
    emptyMeans: 'nothing of the kind',
    source: TOOL_DEFAULT,
  }),
  interval_1_ms: ms('First interval', 'From the first to the second compression; ideal T/4.', {
    emptyMeans: NOT_EXACT,
  }),
  interval_2_ms: ms('Second interval', 'From the second to the third compression; ideal T/4.', {
    emptyMeans: NOT_EXACT,
  }),
  breath_lag_ms: ms('Breath lag', 'From the third compression’s onset to the breath’s; ideal T/4.', {
    emptyMeans: NOT_EXACT,
  }),
  breath_lag_ratio: text('Breath lag ratio', 'That lag by the mean of the two intervals; ideal 1.', {
    type: 'number',
    emptyMeans: `${NOT_EXACT}, or its intervals were 0`,
    source: WORKED_OUT,
  }),
  breath_phase: text('Breath’s place', 'From its start to the breath’s onset, by its length; ideal 0.75.', {
    type: 'number',
    emptyMeans: `${NOT_EXACT}, or its length was 0`,
    source: WORKED_OUT,
  }),
  restart_lag_ms: ms('Restart lag', 'From the breath’s onset to the next cycle’s start; ideal T/4.', {
    emptyMeans: NOT_EXACT,
  }),
  clashes: whole('Clashes', 'Breaths that clash with a compression.', {
    unit: 'breaths',
    source: TOOL_DEFAULT,
  }),
  clashes_by_breath: whole('Breath too soon', 'Breaths begun before the compression was let up.', {
    unit: 'breaths',
    source: TOOL_DEFAULT,
  }),
  clashes_by_compression: whole(
    'Compression too soon',
    'Breaths in whose first part a compression was begun.',
    { unit: 'breaths', source: TOOL_DEFAULT },
  ),
  let_go_late: whole('Bag let go late', 'Breaths let go well after the next compression began.', {
    unit: 'breaths',
    source: TOOL_DEFAULT,
  }),
  overlap_ms: ms('Overlap', 'All time that its breaths and compressions share.'),
  pauses: whole('Pauses', 'Gaps without compressions of more than 0.75 T.', {
    unit: 'pauses',
    source: TOOL_DEFAULT,
  }),
  longest_pause_ms: ms('Longest pause', 'The longest of them.', {
    emptyMeans: 'no pause',
    source: TOOL_DEFAULT,
  }),
} as const satisfies Record<string, ColumnWords>;

export type CycleColumn = keyof typeof CYCLE_COLUMN_WORDS;

export const DICTIONARY_COLUMNS = [
  'file',
  'column',
  'meaning',
  'unit',
  'type',
  'levels',
  'empty_means',
  'source',
] as const;
