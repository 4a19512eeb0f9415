import { RIGS } from '../journal.ts';
import { type KeptFigure, type LedgerEntry, ROLES } from '../ledger/ledger-entry.ts';
import type { ColdChange, PersonPage, PersonPoint } from '../ledger/person-page.ts';
import { CAUTIONS, NOT_MEASURED, ofCycles, RIG_WORDS, TECHNIQUE_WORDS } from './english.ts';
import { formatNumber } from './format.ts';
import { pairName } from './screen-debrief.ts';

/** What the Ledger says in words of its own; times are the journal's, in UTC. */
export const LEDGER_WORDS = {
  none: 'No drill is kept here that this would be.',
  nobody: 'Nobody of that name drilled here.',
  newer: 'was made by a newer release, and is left untouched',
  damaged: 'has a line that is wrong, and is left untouched',
  unreadable: 'cannot be read now',
  pair: 'A figure belongs to the pair: it stands with the partner’s name, and no pair is put before another.',
  cold: 'Cold minutes, apart: cold compared with cold shows what was forgotten.',
  trend: 'Without a count, at the usual tempo.',
  noTrend: 'None.',
  asked:
    'Copies of the folder elsewhere, and what a disk keeps of files it has let go, are not reached from here.',
} as const;

/** "2026-03-02 09:30 UTC · Ada and Ben · manikin · two-thumb · 20 of 29 cycles · 00000001". */
export function entryLine(entry: LedgerEntry): string {
  const { openedAt, names, rig, techniques, plan, cycles, title, isArchived, isClosed, drillId } = entry;
  return [
    whenWords(openedAt),
    pairName(names),
    RIG_WORDS[rig],
    techniques.map((technique) => TECHNIQUE_WORDS[technique]).join(' and '),
    ...(plan === null ? [] : [plan]),
    ofCycles(cycles.coordinated, cycles.total),
    ...(title === null ? [] : [`“${title}”`]),
    ...(isArchived ? ['archived'] : []),
    ...(isClosed ? [] : ['not closed']),
    drillId,
  ].join(' · ');
}

/** A person's page as plain text. */
export function personPageText(page: PersonPage): string {
  const { led, slowed, noCycle } = page.notInTrend;
  const lines = [
    page.name,
    `${page.drills} drills; in no trend: ${led} led, ${slowed} slowed, ${noCycle} without a cycle`,
    `Last practised on a manikin: ${dayWords(page.lastPractisedAt.manikin)}; on a rhythm rig: ${dayWords(page.lastPractisedAt.rhythm)}`,
    page.dueOn === null ? 'Due: no interval is set, or no manikin drill' : `Due: ${page.dueOn}`,
    LEDGER_WORDS.pair,
  ];
  for (const rig of RIGS) {
    for (const role of ROLES) {
      const { trend, cold, coldChange } = page.rigs[rig][role];
      if (trend.length === 0 && cold.length === 0) continue;
      if (rig === 'rhythm') lines.push('', CAUTIONS.rhythm);
      lines.push('', `As ${role}, ${RIG_WORDS[rig]} rig`, LEDGER_WORDS.trend, ...pointLines(trend));
      if (cold.length > 0) lines.push(LEDGER_WORDS.cold, ...pointLines(cold));
      if (coldChange !== null) lines.push(`  ${coldChangeWords(coldChange)}`);
    }
  }
  const points = ROLES.flatMap((role) => RIGS.flatMap((rig) => [page.rigs[rig][role]])).flatMap(
    ({ trend, cold }) => [...trend, ...cold],
  );
  if (new Set(points.flatMap(({ techniques }) => techniques)).size > 1) lines.push('', CAUTIONS.technique);
  return `${lines.join('\n')}\n`;
}

function pointLines(points: readonly PersonPoint[]): string[] {
  if (points.length === 0) return [`  ${LEDGER_WORDS.noTrend}`];
  return points.map((point) => {
    const { openedAt, partner, coordinated, cycles, coordinatedShare, cycleJitterMs, breathLagRatio } = point;
    const [share, jitter, lag] = primaryWords({ coordinatedShare, cycleJitterMs, breathLagRatio });
    return `  ${whenWords(openedAt)}, with ${partner}: ${ofCycles(coordinated, cycles)} (${share}), cycle jitter ${jitter}, breath lag ratio ${lag}`;
  });
}

/** The three primary figures with their ±, as "69 ± 12 %", "61 ± 12 ms" and "1.02 ± 0.06". */
export function primaryWords({
  coordinatedShare,
  cycleJitterMs,
  breathLagRatio,
}: Pick<PersonPoint, 'coordinatedShare' | 'cycleJitterMs' | 'breathLagRatio'>): [string, string, string] {
  return [
    keptFigure(inPercent(coordinatedShare), 0, ' %'),
    keptFigure(cycleJitterMs, 0, ' ms'),
    keptFigure(breathLagRatio, 2),
  ];
}

/** "The last two cold minutes with Ben differ by: coordinated cycles −12 ± 20 points, …": later less earlier. */
export function coldChangeWords({
  partner,
  coordinatedShare,
  cycleJitterMs,
  breathLagRatio,
}: ColdChange): string {
  const figures = [
    `coordinated cycles ${keptFigure(inPercent(coordinatedShare), 0, ' points')}`,
    `cycle jitter ${keptFigure(cycleJitterMs, 0, ' ms')}`,
    `breath lag ratio ${keptFigure(breathLagRatio, 2)}`,
  ];
  return `The last two cold minutes with ${partner} differ by (later less earlier): ${figures.join(', ')}`;
}

function inPercent({ value, plusMinus }: KeptFigure): KeptFigure {
  const percent = (share: number | null) => (share === null ? null : 100 * share);
  return { value: percent(value), plusMinus: percent(plusMinus) };
}

/** "61 ± 12 ms"; without the ± where there is none. */
function keptFigure({ value, plusMinus }: KeptFigure, decimals: number, unit = ''): string {
  if (value === null) return NOT_MEASURED;
  const error = plusMinus === null ? '' : ` ± ${formatNumber(plusMinus, decimals)}`;
  return `${formatNumber(value, decimals)}${error}${unit}`;
}

function whenWords(openedAt: string): string {
  return `${openedAt.slice(0, 10)} ${openedAt.slice(11, 16)} UTC`;
}

function dayWords(at: string | null): string {
  return at === null ? 'never' : at.slice(0, 10);
}
