import type { Person } from '../journal.ts';
import {
  ALPHA,
  type Comparison,
  type Difference,
  PRIMARY,
  type PrimaryFigure,
} from '../scoring/comparisons.ts';
import type { Figure } from '../scoring/figure.ts';
import { type Conditions, type Factor, FEWEST_CYCLES } from '../scoring/stretches.ts';
import {
  AIRWAY_WORDS,
  CAUTIONS,
  GUIDANCE_WORDS,
  ofCycles,
  STANCE_WORDS,
  TECHNIQUE_WORDS,
} from './english.ts';
import { formatFigure, formatNumber } from './format.ts';

type Names = Record<Person, string>;

export const COMPARISON_WORDS = {
  title: 'Comparisons',
  figures: 'The comparisons in figures',
  figure: 'Figure',
  difference: 'Second less first',
  smallestUseful: 'Smallest useful',
  verdict: 'What can be said',
} as const;

/** What stands under the comparisons of a drill: what they need, and how sure their intervals are. */
export function comparisonNote(comparisons: readonly Comparison[]): string {
  const byTurns = comparisons.filter(({ isByTurns }) => isByTurns);
  const [first] = byTurns;
  const needed =
    'Three or more stretches a side, by turns, are needed before anything is said of what differs between them.';
  const left = `Stretches under ${FEWEST_CYCLES} cycles, and slowed ones, are left out.`;
  if (first === undefined) return `${needed} ${left}`;
  const sharing =
    byTurns.length === 1
      ? 'The three figures'
      : `The three figures of all ${byTurns.length} comparisons by turns`;
  const inside = formatNumber(100 * first.coordinatedShare.level, 1);
  return `${needed} ${sharing} share a chance of ${formatNumber(100 * ALPHA, 0)} % of a false difference in the drill (tool default): each interval is one of ${inside} %, with a steady drift over the drill taken out. ${left}`;
}

/** "Two-thumb and two-finger: Ada compresses, foot-end, unled; 3 and 3 stretches". */
export function comparisonTitle({ of, sides, alike }: Comparison, people: Names): string {
  const [first, second] = sides;
  const counts =
    first.stretches + second.stretches === 2
      ? 'a stretch each'
      : `${first.stretches} and ${second.stretches} stretches`;
  return `${capital(sidesWords(of, sides, people))}: ${[...alikeWords(alike, people), counts].join(', ')}`;
}

/** What goes with a comparison; with every comparison of techniques, which of them is the method of choice. */
export function comparisonCaution({ of }: Pick<Comparison, 'of'>): string | null {
  return of === 'technique' ? CAUTIONS.technique : null;
}

/** A comparison as files have it: what goes with it is beside it; null where nothing does. */
export function withCaution(comparison: Comparison): Comparison & { caution: string | null } {
  return { ...comparison, caution: comparisonCaution(comparison) };
}

/** A comparison for the pair, without milliseconds: a sentence or two. */
export function comparisonSentences(comparison: Comparison, people: Names): string[] {
  if (!comparison.isByTurns) {
    const { difference } = comparison.coordinatedShare;
    if (typeof difference !== 'number') return [TOO_FEW];
    const shares = sharesWords(comparison, people);
    return [`${theseStretches(comparison)} ${differWords(Math.abs(difference))} (${shares}).`, TOO_FEW];
  }
  const [first, second] = sideWords(comparison, people);
  const sentences = PRIMARY.flatMap((name) => {
    const { verdict, difference } = comparison[name];
    if (verdict !== 'different' || typeof difference !== 'number') return [];
    return [`${capital(second)}: ${MORE_OR_LESS[name][difference > 0 ? 'more' : 'less']} than ${first}.`];
  });
  const alike = PRIMARY.filter((name) => comparison[name].verdict === 'no useful difference');
  if (alike.length > 0) sentences.push(`No useful difference in ${list(alike)}.`);
  const open = PRIMARY.filter((name) => comparison[name].verdict === 'too little to say');
  if (open.length > 0) sentences.push(`Too little to say of ${list(open)}.`);
  return sentences;
}

/** "These two stretches", and of more on a side, which are still too few: "These 2 and 2 stretches". */
function theseStretches({ sides: [first, second] }: Comparison): string {
  return first.stretches + second.stretches === 2
    ? 'These two stretches'
    : `These ${first.stretches} and ${second.stretches} stretches`;
}

function differWords(share: number): string {
  if (share === 0) return 'do not differ in coordinated cycles';
  const inHundred = Math.round(100 * share);
  if (inHundred === 0) return 'differ by less than 1 coordinated cycle in 100';
  return `differ by ${inHundred} coordinated ${inHundred === 1 ? 'cycle' : 'cycles'} in 100`;
}

/** One figure of a comparison for the instructor. */
export type ComparisonLine = {
  label: string;
  first: string;
  second: string;
  difference: string;
  smallestUseful: string;
  verdict: string;
};

/** The figures of a comparison, with the interval of each difference. */
export function comparisonLines(comparison: Comparison): ComparisonLine[] {
  const [first, second] = comparison.sides;
  return PRIMARY.map((name) => {
    const { text, unit, label } = SHOWN[name];
    const side = (one: typeof first) =>
      name === 'coordinatedShare' && one.cycles.total > 0
        ? ofCycles(one.cycles.coordinated, one.cycles.total)
        : shown(one[name], name);
    const { smallestUseful, verdict } = comparison[name];
    return {
      label,
      first: side(first),
      second: side(second),
      difference: differenceWords(comparison[name], name),
      smallestUseful: `${text(smallestUseful)}${unit}`,
      verdict:
        verdict === 'these two stretches differ'
          ? `${uncapital(theseStretches(comparison))} ${VERDICT_WORDS[verdict]}`
          : VERDICT_WORDS[verdict],
    };
  });
}

/** Heads of the two sides' columns. */
export function sideWords({ of, sides }: Comparison, people: Names): [string, string] {
  return [valueWords(of, sides[0].value, people), valueWords(of, sides[1].value, people)];
}

/** A comparison as plain text, a line a figure. */
export function comparisonText(comparison: Comparison, people: Names): string[] {
  const [first, second] = sideWords(comparison, people);
  return comparisonLines(comparison).map(
    (line) =>
      `${line.label}: ${first} ${line.first}, ${second} ${line.second}; ${second} less ${first} ${line.difference}; smallest useful ${line.smallestUseful}: ${line.verdict}`,
  );
}

const VERDICT_WORDS: Record<Difference['verdict'], string> = {
  different: 'different',
  'no useful difference': 'no useful difference',
  'too little to say': 'too little to say',
  'these two stretches differ': 'differ by this; nothing more can be said',
};
const TOO_FEW = 'It says nothing of what they were for: that takes three stretches or more a side, by turns.';

const SHOWN: Record<PrimaryFigure, { label: string; text: (value: number) => string; unit: string }> = {
  coordinatedShare: { label: 'Coordinated', text: inHundred, unit: ' in 100 cycles' },
  cycleJitterMs: { label: 'Cycle jitter', text: (ms) => formatNumber(ms, 0), unit: ' ms' },
  breathLagRatio: {
    label: 'Breath lag by the triplet’s interval',
    text: (ratio) => formatNumber(ratio, 2),
    unit: '',
  },
};
const PLAIN: Record<PrimaryFigure, string> = {
  coordinatedShare: 'how many cycles were coordinated',
  cycleJitterMs: 'how even the cycles were',
  breathLagRatio: 'where the breath came',
};
const MORE_OR_LESS: Record<PrimaryFigure, { more: string; less: string }> = {
  coordinatedShare: { more: 'more cycles coordinated', less: 'fewer cycles coordinated' },
  cycleJitterMs: { more: 'less even cycles', less: 'more even cycles' },
  breathLagRatio: { more: 'the breath came later', less: 'the breath came earlier' },
};

/** "−6 in 100 cycles (−22 to 11)". */
function differenceWords({ difference, low, high }: Difference, name: PrimaryFigure): string {
  if (typeof difference !== 'number') return `${formatFigure(difference, 0)}: ${difference.reason}`;
  if (typeof low !== 'number' || typeof high !== 'number') return shown(difference, name);
  const { text } = SHOWN[name];
  return `${shown(difference, name)} (${text(low)} to ${text(high)})`;
}

function shown(figure: Figure, name: PrimaryFigure): string {
  const { text, unit } = SHOWN[name];
  return typeof figure === 'number' ? `${text(figure)}${unit}` : formatFigure(figure, 0);
}

function inHundred(share: number): string {
  return formatNumber(100 * share, 0);
}

function sharesWords({ of, sides }: Comparison, people: Names): string {
  return sides
    .map(
      ({ value, cycles }) => `${valueWords(of, value, people)} ${ofCycles(cycles.coordinated, cycles.total)}`,
    )
    .join(', ');
}

function sidesWords(of: Factor, sides: Comparison['sides'], people: Names): string {
  return sides.map(({ value }) => valueWords(of, value, people)).join(' and ');
}

function valueWords(of: Factor, value: Conditions[Factor], people: Names): string {
  const words: Record<string, string> = { ...TECHNIQUE_WORDS, ...STANCE_WORDS, ...GUIDANCE_WORDS, ...people };
  const word = words[value] ?? value;
  return of === 'role' ? `${word} compressing` : word;
}

function alikeWords(
  { role, technique, stance, guidance, airway }: Partial<Conditions>,
  people: Names,
): string[] {
  return [
    role === undefined ? [] : `${people[role]} compresses`,
    technique === undefined ? [] : TECHNIQUE_WORDS[technique],
    stance === undefined ? [] : STANCE_WORDS[stance],
    guidance === undefined ? [] : GUIDANCE_WORDS[guidance],
    airway === undefined ? [] : AIRWAY_WORDS[airway],
  ].flat();
}

function list(names: readonly PrimaryFigure[]): string {
  const words = names.map((name) => PLAIN[name]);
  const last = words.pop() ?? '';
  return words.length === 0 ? last : `${words.join(', ')} and ${last}`;
}

function uncapital(words: string): string {
  return words.charAt(0).toLowerCase() + words.slice(1);
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
