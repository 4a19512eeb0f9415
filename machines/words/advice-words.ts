import type { Person, Rig, Roles } from '../journal.ts';
import type { Advice, PersonAdvice } from '../scoring/advice.ts';
import type { HandoverEvidence, PairItem, PairPraise, RowRef } from '../scoring/advice-pair.ts';
import type { TickAdvice } from '../scoring/advice-ticks.ts';
import { numberOf } from '../scoring/figure.ts';
import type { Tick, TickItem } from '../ticks.ts';
import { PERSONS } from '../vocabulary.ts';
import { evidenceLine, pairEvidenceLine } from './advice-figures.ts';
import { cycles, PRAISE_SAYINGS, sayingOf, WATCH_WORDS } from './advice-sayings.ts';
import { formatNumber } from './format.ts';
import { ventilationNext } from './ventilation-alone.ts';

/** One sentence for the learners; for the instructor the figures behind it, and the rows that show it. */
export type AdviceSentence = { text: string; figures: string | null; rows: readonly RowRef[] };

/** Advice ready to be shown, in this order. Null where there is nothing to say. */
export type AdviceSentences = {
  /** Stands after the headline, which says that it is timing only. */
  headline: AdviceSentence | null;
  tick: AdviceSentence | null;
  /** One for each person: what to try, or that nothing stands out, or that it is too little to say. */
  people: readonly (AdviceSentence & { person: Person })[];
  pair: AdviceSentence | null;
  praise: readonly AdviceSentence[];
  /** What to do next. */
  next: string;
};

export const ADVICE_WORDS = {
  title: 'One thing to try',
  praise: 'What went well',
  figures: 'For the instructor',
} as const;

export function adviceSentences(advice: Advice, names: Record<Person, string>): AdviceSentences {
  const { forPerson, pair, rig, first, tooLittle } = advice;
  return {
    headline: keptOrderSentence(advice),
    tick: first === null ? null : tickSentence(first, names),
    people: tooLittle
      ? []
      : PERSONS.map((person) => ({ person, ...personSentence(forPerson[person], names[person], rig) })),
    pair: pair.toTry === null ? null : pairSentence(pair.toTry),
    praise: [
      ...PERSONS.flatMap((person) => praiseSentence(forPerson[person], names[person], rig)),
      ...(pair.praise === null ? [] : [pairPraiseSentence(pair.praise)]),
    ],
    next: nextSentence(advice),
  };
}

const HANDS: Record<Rig, Record<keyof Roles, string>> = {
  manikin: { compressor: 'on the chest', ventilator: 'on the bag' },
  rhythm: { compressor: 'compressing', ventilator: 'giving the breath' },
};

function personSentence(
  { toTry, tooLittle, isPaceUnjudged }: PersonAdvice,
  name: string,
  rig: Rig,
): AdviceSentence {
  if (toTry === null) {
    const judged = isPaceUnjudged ? ', though at a slower tempo no pace is judged' : '';
    const text = tooLittle
      ? `${name}: too little to say.`
      : `${name}: in the timing nothing stands out to be changed${judged}.`;
    return { text, figures: null, rows: [] };
  }
  const saying = sayingOf(toTry, rig);
  return {
    text: `${name}, ${HANDS[rig][toTry.role]}: ${saying.happened}; ${saying.toTry}.`,
    figures: evidenceLine(toTry.evidence, toTry.rows),
    rows: toTry.rows,
  };
}

function praiseSentence({ praise }: PersonAdvice, name: string, rig: Rig): AdviceSentence[] {
  if (praise === null) return [];
  const { rule, role, evidence, rows } = praise;
  const saying = PRAISE_SAYINGS[rule](`in ${evidence.count} of ${evidence.of} cycles`);
  return [
    {
      text: `${name}, ${HANDS[rig][role]}: ${saying}.`,
      figures: evidenceLine(evidence, []),
      rows,
    },
  ];
}

function keptOrderSentence({ keptOrder, pair }: Advice): AdviceSentence | null {
  if (keptOrder === null || pair.praise?.rule === 'kept-order') return null;
  return {
    text: `With the count off you kept the order in ${keptOrder.count} of ${keptOrder.of} cycles.`,
    figures: evidenceLine(keptOrder, []),
    rows: [],
  };
}

function nextSentence(advice: Advice): string {
  const { tooLittle, cycles: total, pair, forPerson, first, ventilationAlone } = advice;
  if (ventilationAlone !== null) return ventilationNext(ventilationAlone);
  if (tooLittle)
    return `${total === 0 ? 'No cycle was completed' : `Only ${cycles(total)} ${total === 1 ? 'was' : 'were'} completed`}: too little to say. Do two more minutes, then look again.`;
  const isAny = pair.toTry !== null || PERSONS.some((person) => forPerson[person].toTry !== null);
  if (!isAny && first?.kind === 'not met') return 'Do two more minutes now, and put right what was seen.';
  if (!isAny && first?.kind === 'not seen') return 'Do two more minutes now, with your instructor watching.';
  return isAny ? 'Do two more minutes now, one thing each.' : 'Do two more minutes, and see if it lasts.';
}

function tickSentence({ kind, places, seen }: TickAdvice, names: Record<Person, string>): AdviceSentence {
  const items = [...new Set(places.map(({ item }) => item))];
  const words = (item: TickItem) =>
    item === 'position' && places.some((place) => place.item === item && place.technique === 'two-finger')
      ? 'the fingers in place'
      : WATCH_WORDS[item];
  if (kind === 'not seen')
    return {
      text: `Ask your instructor to watch ${listOf(items.map(words), 'and')}: no switch can know, and it comes before the timing.`,
      figures: null,
      rows: [],
    };
  const isUnmet = (by: Tick['by']) => places.some((place) => place.by === by);
  // What was not met stands last, where "that" points to it.
  const sources = (['observer', 'instructor'] as const).toSorted(
    (one, other) => Number(isUnmet(one)) - Number(isUnmet(other)),
  );
  const clauses = sources.map((by) => {
    const saw = seen.filter((one) => one.by === by).map(({ item }) => words(item));
    const unmet = places.filter((place) => place.by === by);
    const people = [...new Set(unmet.map(({ person, role }) => `${names[person]} ${HANDS.manikin[role]}`))];
    const not = `${listOf([...new Set(unmet.map(({ item }) => words(item)))], 'or')} (${listOf(people, 'and')})`;
    if (unmet.length === 0) return saw.length === 0 ? [] : [`your ${by} saw ${listOf(saw, 'and')}`];
    return [`your ${by} ${saw.length === 0 ? 'did not see' : `saw ${listOf(saw, 'and')}, but not`} ${not}`];
  });
  const said = [...clauses.flat(), 'put that right before anything the switches say'].join('; ');
  return { text: `${said.charAt(0).toUpperCase()}${said.slice(1)}.`, figures: null, rows: [] };
}

function pairSentence(item: PairItem): AdviceSentence {
  return { text: PAIR_SAYINGS[item.rule](item), figures: pairEvidenceLine(item), rows: item.rows };
}

const PAIR_SAYINGS: Record<PairItem['rule'], (item: PairItem) => string> = {
  'handover-long': ({ evidence }) =>
    evidence.kind === 'handover'
      ? `${atThe(evidence)} the baby had ${listOf(gaps(evidence), 'and')}; ${handoverAdvice(evidence)}.`
      : '',
  'handover-not-taken-up': ({ evidence }) =>
    evidence.kind === 'handover'
      ? `${atThe(evidence)} the change was called and not made; answer the call aloud, and make it after that breath.`
      : '',
  'order-lost': () =>
    'Once the count fell silent the order of three and one was lost in places; say the words aloud together, and do the next minute with the count off again.',
  'too-few-compressions': ({ evidence }) =>
    evidence.kind === 'share'
      ? `In ${cycles(evidence.count)} the breath came after one or two compressions, and no switch can say through whom; count aloud together up to ‘breathe’.`
      : '',
};

function atThe({ report }: HandoverEvidence): string {
  const names = { swap: 'swap', technique: 'change of technique', stance: 'change of place' } as const;
  return `At the ${listOf(
    report.reasons.map((reason) => names[reason]),
    'and',
  )}`;
}

/** A pause of under half a second is none to the eye. */
function gaps({ report }: HandoverEvidence): string[] {
  const pause = numberOf(report.pauseMs) ?? 0;
  const breathGap = numberOf(report.breathGapMs);
  return [
    ...(Math.round(pause / 1000) === 0 ? [] : [`no compressions for ${seconds(Math.round(pause / 1000))}`]),
    ...(breathGap === null ? [] : [`no breath for ${seconds(Math.round(breathGap / 1000))}`]),
  ];
}

function handoverAdvice({ report }: HandoverEvidence): string {
  const [reason] = report.reasons;
  const word = reason === 'swap' ? '‘swap after this breath’' : '‘change after this breath’';
  return `say ${word}, and restart on ‘one’`;
}

function pairPraiseSentence(praise: PairPraise): AdviceSentence {
  const { evidence, rows } = praise;
  const text =
    evidence.kind === 'share'
      ? `Both: you kept the order with the count off, in ${evidence.count} of ${evidence.of} cycles.`
      : `Both: ${atThe(evidence).toLowerCase()} compressions were back within ${seconds(Math.max(1, Math.ceil((numberOf(evidence.report.pauseMs) ?? 0) / 1000)))}, and the first cycle was right.`;
  return { text, figures: null, rows };
}

/** Whole ones, since learners' pages have no finer times. */
function seconds(whole: number): string {
  return `${formatNumber(whole, 0)} ${whole === 1 ? 'second' : 'seconds'}`;
}

function listOf(words: readonly string[], last: 'and' | 'or'): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} ${last} ${words.at(-1)}`;
}
