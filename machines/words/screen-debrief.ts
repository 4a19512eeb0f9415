import type { OpenLine, Person, Roles, Stance, Technique } from '../journal.ts';
import { guidelineOf } from '../pattern.ts';
import type { Figure } from '../scoring/figure.ts';
import type { HandoverReport } from '../scoring/handover-figures.ts';
import type { Attempt, BoutReport, DrillSummary } from '../scoring/report.ts';
import {
  AIRWAY_WORDS,
  NOT_MEASURED,
  OUTCOME_WORDS,
  RIG_WORDS,
  STANCE_WORDS,
  TECHNIQUE_WORDS,
} from './english.ts';
import type { FigureLine } from './figure-table.ts';
import { formatClock, formatFigure, formatNumber, formatSeconds } from './format.ts';
import { GUIDELINE_WORDS } from './guideline-table.ts';
import { equalWord, formatWithPlusMinus } from './plus-minus-words.ts';

type Names = { A: string; B: string };

/** Words of the Debrief. */
export const DEBRIEF_WORDS = {
  title: 'Debrief',
  askNote: 'The figures can wait until both have spoken.',
  show: 'Show the figures',
  done: 'Done: back to Set-up',
  notFinished: 'This drill was left before it was closed. It is kept as what it is.',
  sheet: 'Sheet',
  sheetNote: 'a row a cycle, two seconds from left to right; bars are compressions, pills are breaths',
  sheetNone: 'No complete cycle to draw.',
  sheetRows: 'The sheet in words, row by row',
  handovers: 'Handovers and checks',
  noHandovers:
    'No swap, change of technique or of stance, and no check, was called while the pair was compressing.',
  rates: 'Rates, and what the dead time makes of them',
  ratesNote: (time: string) =>
    `“Whole attempt” counts everything from each bout’s start to its end, ${time} in all, pauses and handovers with it.`,
  inCycles: 'Inside complete cycles',
  attempt: 'Whole attempt',
  notMeasured: 'What no switch can know',
  notMeasuredNote: 'Not measured here: only an instructor who watches can say.',
  notMeasuredValue: NOT_MEASURED,
  details: 'Figures bout by bout',
  roles: 'Figures role by role',
  handoverFigures: 'Handovers in figures',
  notWritten: (why: string) => `Not written into the journal: ${why}`,
  sources: 'Where the ideals are from',
  sourcesNote:
    '“Guideline” is a number of the preset below, with how far it was checked; “follows from the guideline’s rates” is arithmetic on those; “tool default” is our own choice, written down beside the rule in the program, and your course’s guideline overrules it.',
  warnings: 'Warnings',
  journal: 'Journal',
  figure: 'Figure',
  measured: 'Measured',
  ideal: 'Ideal',
  whose: 'Whose ideal',
  cycle: 'Cycle',
  starts: 'Starts',
  happened: 'What happened',
} as const;

/** "Bout 2: Ben compresses, two-thumb, foot-end, 0:31 to 1:02". */
export function boutTitle(bout: BoutReport, index: number, people: Names): string {
  return `Bout ${index + 1}: ${arrangementWords(bout, people)}, ${formatClock(bout.startMs)} to ${formatClock(bout.endMs)}`;
}

function arrangementWords(
  bout: { roles: Roles; technique: Technique; stance: Stance },
  people: Names,
): string {
  return `${people[bout.roles.compressor]} compresses, ${TECHNIQUE_WORDS[bout.technique]}, ${STANCE_WORDS[bout.stance]}`;
}

export function roleTitle(name: string, role: keyof Roles): string {
  return role === 'compressor' ? `${name} as compressor` : `${name} as ventilator`;
}

/** Rates inside cycles, with their ±, beside those over the whole attempt, which are called equal when they agree within it. */
export function rateLines(
  drill: DrillSummary,
): { label: string; inCycles: string; attempt: string; ideal: string }[] {
  const { attempt, plusMinus } = drill;
  const line = (label: string, key: 'compressionsPerMin' | 'breathsPerMin', ideal: string) => {
    const inCycles = drill[key];
    const within = plusMinus === undefined ? {} : { plusMinus: plusMinus[key] };
    return {
      label,
      inCycles:
        typeof inCycles === 'number'
          ? formatWithPlusMinus(inCycles, plusMinus?.[key], 1)
          : formatFigure(inCycles, 1),
      attempt: `${formatFigure(attempt[key], 1)}${equalWord({ figure: inCycles, ...within }, { figure: attempt[key] })}`,
      ideal,
    };
  };
  return [
    line('Compressions a minute', 'compressionsPerMin', '90'),
    line('Breaths a minute', 'breathsPerMin', '30'),
  ];
}

/** The time the attempt took, "52.3 s". */
export function attemptTime({ ms }: Attempt): string {
  return formatSeconds(ms);
}

/** "swap called at 0:31: taken up". */
export function handoverTitle({ reasons, calledMs, outcome }: HandoverReport): string {
  return `${reasons.join(' and ')} called at ${formatClock(calledMs)}: ${OUTCOME_WORDS[outcome]}`;
}

/** When and how: "25 Nov 2025, 10:31; rhythm rig, US-style, standard tolerance". */
export function aboutDrill(when: string, { rig, airway, guideline, tolerance }: OpenLine): string {
  const preset = guidelineOf(guideline);
  const style = preset === null ? guideline : GUIDELINE_WORDS[preset.name];
  return `${when}; ${RIG_WORDS[rig]} rig, ${AIRWAY_WORDS[airway]}, ${style}, ${tolerance === 'first' ? 'first-contact' : 'standard'} tolerance`;
}

/** A handover's figures, one a line, for the instructor. */
export function handoverLines(handover: HandoverReport): FigureLine[] {
  const seconds = (label: string, figure: Figure, ideal: string): FigureLine => ({
    label,
    value: formatSeconds(figure),
    ...reasonOf(figure),
    ideal,
    source: 'tool default',
  });
  const count = (label: string, figure: Figure, decimals: number, ideal: string): FigureLine => ({
    label,
    value: formatFigure(figure, decimals),
    ...reasonOf(figure),
    ideal,
    source: 'tool default',
  });
  const right = handover.firstCycleRight;
  return [
    seconds('Without compressions', handover.pauseMs, 'short'),
    seconds('Called to first new compression', handover.resumeMs, 'none: finishing the cycle first is good'),
    seconds('Between the breaths on either side', handover.breathGapMs, 'short'),
    count('Cycles lost', handover.cyclesLost, 1, '0'),
    {
      label: 'First cycle after it',
      value: typeof right === 'boolean' ? (right ? 'coordinated' : 'not coordinated') : 'not measured',
      ...(typeof right === 'boolean' ? {} : { reason: right.reason }),
      ideal: 'coordinated',
      source: 'tool default',
    },
    count('Coordinated of five before', handover.before5, 0, '5'),
    count('Coordinated of five after', handover.after5, 0, '5'),
    seconds('Until three coordinated in a row', handover.settleMs, 'short'),
    count('Stray presses of the old compressor', handover.strays, 0, '0'),
  ];
}

function reasonOf(figure: Figure): { reason?: string } {
  return typeof figure === 'number' ? {} : { reason: figure.reason };
}

/** "Ada and Ben". */
export function pairName(people: Record<Person, string>): string {
  return `${people.A} and ${people.B}`;
}

/** When a row starts, in seconds of the drill. */
export function rowStart(ms: number): string {
  return `${formatNumber(ms / 1000, 1)} s`;
}
