import type { OpenLine } from '../../machines/journal.ts';
import type { NumberedLine } from '../../machines/journal-reader.ts';
import { ReferenceJournal, type ReferencePress, us } from './reference-journal.ts';

/** The ventilation stage in whole microseconds; null where there is no number. */
export type ReferenceVentilation = {
  startUs: number | null;
  endUs: number | null;
  breaths: number;
  perMin: number | null;
  effectiveUs: number | null;
  beganUnder60: boolean | null;
  announcedToFirstUs: number | null;
  firstCheckAfterUs: number | null;
  after60: { compressions: number; us: number } | null;
  back: { startUs: number; endUs: number | null; breaths: number }[];
};
type Where = 'idle' | 'going' | 'resting' | 'checking' | 'finished';

/**
 * A second reading of design section 5's ventilation stage, for a chest and an airway switch: looks through the whole
 * journal for every question, and keeps nothing from one to the next. Null when begin does not say ventilation.
 */
export function ventilationByReference(
  open: OpenLine,
  all: readonly NumberedLine[],
): ReferenceVentilation | null {
  const journal = new ReferenceJournal(open, all);
  const { lines } = journal;
  const where = whereabouts(journal);
  const begin = lines.findIndex((line) => line.kind === 'call' && line.call === 'begin');
  const began = lines[begin];
  if (began?.kind !== 'call' || began.call !== 'begin' || began.stage !== 'ventilation') return null;
  if (where[begin] !== 'going') return null;
  const at = (line: number) => us(lines[line]?.at ?? 0);
  const compressions = journal.presses.filter(
    (press) => press.switch === 'chest' && where[press.line] === 'going',
  );
  const given = journal.presses.filter(
    ({ switch: name, line }) => name === 'airway' && (where[line] === 'going' || where[line] === 'checking'),
  );
  const first = compressions[0];
  const rates = lines.flatMap((line, index) =>
    line.kind === 'call' && line.call === 'heart-rate'
      ? [{ line: index, bpm: line.bpm, atUs: us(line.at) }]
      : [],
  );
  const rateBefore = (line: number) => rates.findLast((rate) => rate.line < line);
  const calls = (name: string) =>
    lines.flatMap((line, index) =>
      line.kind === 'call' && line.call === name && isAccepted(name, where[index - 1]) ? [index] : [],
    );
  const stage = given.filter(({ line }) => line < (first?.line ?? Number.POSITIVE_INFINITY));
  const ticks = lines.flatMap((line, index) =>
    line.kind === 'tick' &&
    line.item === 'chest-rise' &&
    index > begin &&
    index < (first?.line ?? lines.length)
      ? [{ met: line.met, line: index }]
      : [],
  );
  const against = ticks.findLast(({ met }) => met !== true)?.line ?? -1;
  const rise = ticks.find(({ met, line }) => met === true && line > against);
  const [breath, last] = [stage[0], stage.at(-1)];
  const rate = first && rateBefore(first.line);
  const check = first && calls('check').find((line) => line > first.line);
  return {
    startUs: breath?.onUs ?? null,
    endUs: first?.onUs ?? null,
    breaths: stage.length,
    perMin: perMin(stage),
    effectiveUs:
      breath && last && rise && open.rig === 'manikin'
        ? Math.max(0, (first?.onUs ?? last.offUs) - Math.max(breath.onUs, at(rise.line)))
        : null,
    beganUnder60: rate ? rate.bpm < 60 : null,
    announcedToFirstUs: first && rate && rate.bpm < 60 ? Math.max(0, first.onUs - rate.atUs) : null,
    firstCheckAfterUs: first && check !== undefined ? at(check) - first.onUs : null,
    after60: rates.some(({ bpm }) => bpm >= 60) ? after60() : null,
    back: first === undefined ? [] : backs(first),
  };

  /** A compression counts unless it is one of the rest of the triplet in which 60 or more came to be announced. */
  function after60(): { compressions: number; us: number } {
    const counted = compressions.flatMap((press) => {
      const since = sixtySince(press.line);
      if (since === undefined || isRest(press, since.line)) return [];
      return [{ press, since }];
    });
    const breaks = [...calls('check'), ...calls('checked'), ...calls('rest')];
    const stretchOf = (line: number) => breaks.filter((one) => one < line).length;
    // From the announcement, or from the stretch's first compression where that is later, to its last counted one.
    const runs = new Map(
      counted.map(({ press, since }) => {
        const stretch = stretchOf(press.line);
        const begun = compressions.find(({ line }) => stretchOf(line) === stretch) ?? press;
        return [`${since.line} ${stretch}`, Math.max(0, press.onUs - Math.max(since.atUs, begun.onUs))];
      }),
    );
    return {
      compressions: counted.length,
      us: [...runs.values()].reduce((sum, length) => sum + length, 0),
    };
  }
  function sixtySince(line: number) {
    const before = rates.filter((rate) => rate.line < line);
    const under = before.findLastIndex(({ bpm }) => bpm < 60);
    return before[under + 1];
  }
  function isRest(press: ReferencePress, announced: number): boolean {
    if (where[announced] !== 'going') return false;
    const breaks = [...given.map(({ line }) => line), ...calls('check'), ...calls('rest')];
    const from = Math.max(-1, ...breaks.filter((line) => line < announced));
    if (breaks.some((line) => line > announced && line < press.line)) return false;
    const made = compressions.filter(({ line }) => line > from && line < announced).length;
    const since = compressions.filter(({ line }) => line > announced && line < press.line).length;
    return made % 3 > 0 && since < 3 - (made % 3);
  }
  function backs(begun: ReferencePress): ReferenceVentilation['back'] {
    const starts = calls('checked').filter((line) => line > begun.line && sixtySince(line) !== undefined);
    const stretches: ReferenceVentilation['back'] = [];
    let until = -1;
    for (const start of starts) {
      if (start < until) continue;
      const end = compressions.find(({ line }) => line > start);
      until = end?.line ?? Number.POSITIVE_INFINITY;
      const breaths = given.filter(({ line }) => line > start && line < until).length;
      stretches.push({ startUs: at(start), endUs: end?.onUs ?? null, breaths });
    }
    return stretches;
  }
}

function perMin(breaths: readonly ReferencePress[]): number | null {
  const [first, last] = [breaths[0], breaths.at(-1)];
  if (first === undefined || last === undefined || last.onUs === first.onUs) return null;
  return ((breaths.length - 1) * 60_000_000) / (last.onUs - first.onUs);
}

/** Where the drill stands after each line. */
function whereabouts({ lines }: ReferenceJournal): Where[] {
  let now: Where = 'idle';
  const leads: Record<string, Where> = {
    begin: 'going',
    check: 'checking',
    checked: 'going',
    rest: 'resting',
    resume: 'going',
    finish: 'finished',
  };
  return lines.map((line) => {
    if (line.kind === 'call' && isAccepted(line.call, now)) now = leads[line.call] ?? now;
    return now;
  });
}

function isAccepted(call: string, before: Where | undefined = 'idle'): boolean {
  const from: Record<string, Where[]> = {
    begin: ['idle'],
    check: ['going', 'resting'],
    checked: ['checking'],
    rest: ['going', 'checking'],
    resume: ['resting'],
    finish: ['idle', 'going', 'resting', 'checking'],
  };
  return from[call]?.includes(before) === true;
}
