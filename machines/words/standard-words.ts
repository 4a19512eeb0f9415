import type { Assessment, Finding } from '../standard/assess.ts';
import type { DrillEvidence, Role } from '../standard/evidence.ts';
import type { FigureFinding, Status } from '../standard/figure-findings.ts';
import type { LimitedFigure, Limits } from '../standard/standard.ts';
import { formatClock, formatNumber, formatSeconds } from './format.ts';
import { formatWithPlusMinus } from './plus-minus-words.ts';
import { TICK_WORDS } from './tick-words.ts';

export const STANDARD_WORDS = {
  title: 'The course’s standard',
  example: 'An example with tool defaults: your course’s own standard replaces it.',
  decides: 'The instructor decides and signs, by name and time. The tool only says what it found.',
  counts:
    'Only unled cycles at the guideline’s tempo on a checked manikin count, and only what the instructor ticked. Led, weaned and slowed ones, a rhythm rig and an observer’s ticks never do.',
  nothingLacks: 'Nothing is lacking.',
  which: 'Standard',
  take: 'Take one from a file:',
  notRead: (file: string) => `${file} could not be read.`,
  refused: (file: string, why: string) => `${file} is no standard: ${why}`,
  of: (name: string) => `The standard, and ${name}`,
  asked: 'Asked',
  limit: 'Limit',
  found: 'Found in this drill',
  status: 'So far',
  by: 'Instructor’s name',
  sign: (name: string) => `Signed by you for ${name}:`,
  nameFirst: 'Your name first.',
} as const;

export const STATUS_WORDS: Record<Status, string> = {
  met: 'met',
  'not yet': 'not yet',
  'not assessed': 'not assessed',
};

const ROLE_WORDS: Record<Role, string> = { compressor: 'compressing', ventilator: 'ventilating' };

/** What each figure is called, and how it is shown: a share as percent. */
const FIGURE_WORDS: Record<LimitedFigure, { name: string; unit: string; scale: number; decimals: number }> = {
  coordinatedShare: { name: 'Coordinated cycles', unit: ' %', scale: 100, decimals: 0 },
  compressionsPerMin: { name: 'Compressions a minute', unit: '', scale: 1, decimals: 1 },
  breathsPerMin: { name: 'Breaths a minute', unit: '', scale: 1, decimals: 1 },
  cycleJitterMs: { name: 'Cycle jitter', unit: ' ms', scale: 1, decimals: 0 },
  'clash.count': { name: 'Clashes', unit: '', scale: 1, decimals: 0 },
  'pauses.longestMs': { name: 'Longest pause', unit: ' s', scale: 0.001, decimals: 1 },
};

/** "Example: not yet". */
export function overallWords({ standard, overall }: Assessment): string {
  return `${standard}: ${STATUS_WORDS[overall]}`;
}

/** What is lacking, one sentence a requirement; only of those that are not met. */
export function lackingSentences({ findings }: Assessment): string[] {
  return findings.filter(({ status }) => status !== 'met').map(findingSentence);
}

/** "Coordinated cycles, compressing: 82 ± 9 %, at least 80 %: not yet, too little to say". */
export function findingSentence(finding: Finding): string {
  const { what, found, asked, why } = partsOf(finding);
  const status = `${STATUS_WORDS[finding.status]}${why === '' ? '' : `, ${why}`}`;
  return `${what}: ${[found, asked].filter((part) => part !== '').join(', ')}: ${status}`.replace(
    ': : ',
    ': ',
  );
}

/** A finding in a table's cells. `why` is empty where it is met. */
export function partsOf(finding: Finding): { what: string; found: string; asked: string; why: string } {
  switch (finding.kind) {
    case 'rig': {
      const why = finding.status === 'met' ? '' : 'no unled cycle on a checked manikin';
      return { what: 'Manikin rig', found: '', asked: '', why };
    }
    case 'unled seconds': {
      const left = finding.leastMs - finding.foundMs;
      return {
        what: `Unled, ${ROLE_WORDS[finding.role]}`,
        found: formatClock(finding.foundMs),
        asked: `at least ${formatClock(finding.leastMs)}`,
        why: finding.status === 'met' ? '' : `${formatClock(Math.ceil(left / 1000) * 1000)} lacking`,
      };
    }
    case 'swap':
      return { what: 'Unled swap', found: '', asked: '', why: swapLack(finding.why) };
    case 'figure':
      return figureParts(finding);
    case 'handover pause':
      return {
        what: 'Longest handover pause',
        found: finding.foundMs === null ? '' : formatSeconds(finding.foundMs),
        asked: `at most ${limitNumber(finding.mostMs / 1000)} s`,
        why: finding.foundMs === null ? 'no unled handover was taken up' : '',
      };
    case 'tick': {
      const role = finding.role === null ? '' : `, ${ROLE_WORDS[finding.role]}`;
      return { what: `${TICK_WORDS[finding.item]}${role}`, found: '', asked: '', why: tickLack(finding.why) };
    }
  }
}

/** What of a drill does not count, and why; null where all of it does. */
export function leftOutSentence({ rig, leftOut }: Pick<DrillEvidence, 'rig' | 'leftOut'>): string | null {
  if (rig === 'rhythm') return 'A drill on a rhythm rig: nothing of it counts for a standard.';
  const parts = [
    part(leftOut.missed, 'that a switch missed'),
    part(leftOut.guided, 'with a count, or weaned'),
    part(leftOut.slowed, 'in slowed stretches'),
    part(leftOut.otherTempo, 'at another tempo'),
    part(leftOut.otherRig, 'with a technique or stance that the rig was not checked with'),
  ].filter((words) => words !== '');
  return parts.length === 0 ? null : `Not counted: ${parts.join('; ')}.`;
}

function part(cycles: number, words: string): string {
  if (cycles === 0) return '';
  return `${cycles} ${cycles === 1 ? 'cycle' : 'cycles'} ${words}`;
}

function figureParts({ figure, role, limits, found, plusMinus, why }: FigureFinding) {
  const { name, unit, scale, decimals } = FIGURE_WORDS[figure];
  const shown = (value: number) =>
    `${formatWithPlusMinus(scale * value, plusMinus === null ? undefined : scale * plusMinus, decimals)}${unit}`;
  return {
    what: `${name}, ${ROLE_WORDS[role]}`,
    found: found === null ? '' : shown(found),
    asked: limitWords(limits, (value) => `${limitNumber(scale * value)}${unit}`),
    why: why === 'outside' || why === null ? '' : why === 'no cycle counts' ? 'no unled cycle' : why,
  };
}

function limitWords({ least, most }: Limits, shown: (value: number) => string): string {
  if (least !== undefined && most !== undefined) return `${shown(least)} to ${shown(most)}`;
  if (least !== undefined) return `at least ${shown(least)}`;
  return most === undefined ? '' : `at most ${shown(most)}`;
}

/** As the standard has it, to two decimals at the most. */
function limitNumber(value: number): string {
  const places = [0, 1].find((few) => Math.abs(value - Number(value.toFixed(few))) < 1e-9) ?? 2;
  return formatNumber(value, places);
}

function swapLack(why: Extract<Finding, { kind: 'swap' }>['why']): string {
  if (why === null) return '';
  return why === 'none'
    ? 'no unled swap was taken up'
    : 'the swap left no gap: the tool cannot tell who compressed';
}

function tickLack(why: Extract<Finding, { kind: 'tick' }>['why']): string {
  switch (why) {
    case null:
    case 'not met':
      return '';
    case 'not ticked':
      return 'the instructor did not tick it in an unled stretch';
    case 'not seen':
      return 'the instructor did not see it';
    case 'only an observer ticked it':
      return 'only an observer ticked it';
  }
}
