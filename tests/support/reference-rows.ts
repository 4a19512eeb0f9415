import type { Switch } from '../../machines/journal.ts';
import type { CycleRow, RowPress } from '../../machines/scoring/cycle-row.ts';
import type { ReferenceJournal, ReferencePress } from './reference-journal.ts';

/** The starts of cycles among a bout's scored presses: the first compression, and each first one after a breath. */
export function startsIn(scored: readonly ReferencePress[], compressor: Switch): ReferencePress[] {
  return scored.filter((press, index) => {
    const before = scored[index - 1];
    return press.switch === compressor && (before === undefined || before.switch !== compressor);
  });
}

/** The rows of a bout's complete cycles, each breath compared with all the bout's compressions. */
export function rowsOf(
  journal: ReferenceJournal,
  scored: readonly ReferencePress[],
  compressor: Switch,
): CycleRow[] {
  const starts = startsIn(scored, compressor);
  return starts.slice(0, -1).map((start, index) => {
    const end = starts[index + 1] ?? start;
    const own = scored.filter(({ line }) => line >= start.line && line < end.line);
    const relative = ({ onUs, offUs, isMeasured }: ReferencePress): RowPress => ({
      onUs: onUs - start.onUs,
      offUs: offUs - start.onUs,
      isMeasured,
    });
    const breaths = own.filter((press) => press.switch !== compressor);
    // As the lines came no other compression of the bout can meet the breath; with an offset taken out these are the ones meant.
    const after = starts[index + 2]?.line ?? Number.POSITIVE_INFINITY;
    const down = scored.filter(
      ({ switch: name, line }) => name === compressor && line >= start.line && line < after,
    );
    const count = (isFault: (breath: ReferencePress, c: ReferencePress) => boolean) =>
      breaths.filter((breath) => down.some((c) => isFault(breath, c))).length;
    const isEarly = (b: ReferencePress, c: ReferencePress) => c.onUs <= b.onUs && c.offUs - b.onUs > 50_000;
    const isInside = (b: ReferencePress, c: ReferencePress) =>
      b.onUs < c.onUs && c.onUs < Math.min(b.offUs, b.onUs + 300_000);
    const isLate = (b: ReferencePress, c: ReferencePress) =>
      c.onUs >= b.onUs + 300_000 && b.offUs - c.onUs > 100_000;
    const shared = breaths.flatMap((b) =>
      down.map((c) => Math.max(0, Math.min(b.offUs, c.offUs) - Math.max(b.onUs, c.onUs))),
    );
    const changes = journal.lines.filter(
      (line, at) =>
        at > start.line &&
        at < end.line &&
        line.kind === 'call' &&
        line.call === 'guidance' &&
        line.guidance !== journal.guidanceAt(at),
    );
    return {
      startUs: start.onUs,
      lengthUs: end.onUs - start.onUs,
      idealUs: journal.idealAt(start.line),
      guidance: journal.guidanceAt(start.line),
      guidanceChanged: changes.length > 0,
      compressions: own.filter((press) => press.switch === compressor).map(relative),
      breaths: breaths.map(relative),
      clash: {
        count: count((b, c) => isEarly(b, c) || isInside(b, c)),
        byBreath: count(isEarly),
        byCompression: count(isInside),
        letGoLate: count(isLate),
        overlapUs: shared.reduce((sum, time) => sum + time, 0),
      },
    };
  });
}
