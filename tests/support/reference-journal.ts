import type { Airway, BodyLine, Guidance, OpenLine, Switch } from '../../machines/journal.ts';
import type { NumberedLine } from '../../machines/journal-reader.ts';

/** A press, by the place of its down edge among the lines that count. Whole microseconds. */
export type ReferencePress = {
  line: number;
  switch: Switch;
  onUs: number;
  offUs: number;
  isMeasured: boolean;
  /** What was taken out of its times. */
  lateUs: number;
};
type CountingLine = Exclude<BodyLine, { kind: 'unknown' }>;

export const us = (ms: number) => Math.round(ms * 1000);

/** A journal's lines and presses for the reference scoring: clean-up, and what was in force at a line. */
export class ReferenceJournal {
  readonly lines: readonly CountingLine[];
  /** The lines' numbers in the file. */
  readonly numbers: readonly number[];
  readonly presses: readonly ReferencePress[];
  readonly open: OpenLine;

  constructor(open: OpenLine, all: readonly NumberedLine[]) {
    const numbered = countingLines(all);
    this.open = open;
    this.lines = numbered.flatMap(({ line }) => (line.kind === 'unknown' ? [] : [line]));
    this.numbers = numbered.map(({ number }) => number);
    const names: Switch[] = open.binding === 'place' ? ['chest', 'airway'] : ['A', 'B'];
    this.presses = names.flatMap((name) => this.cleanUp(name)).sort((one, other) => one.line - other.line);
  }

  /** T in force when a line comes. */
  idealAt(line: number): number {
    const tempo = this.lines.slice(0, line).findLast((one) => one.kind === 'call' && one.call === 'tempo');
    return us(tempo?.kind === 'call' && tempo.call === 'tempo' ? tempo.cycleMs : this.open.cycleMs);
  }
  guidanceAt(line: number): Guidance {
    const call = this.lines.slice(0, line).findLast((one) => one.kind === 'call' && one.call === 'guidance');
    return call?.kind === 'call' && call.call === 'guidance' ? call.guidance : this.open.guidance;
  }
  /** Does `later` come at most so many tenths of T after `earlier`, with T as it is by then? */
  isClose(earlier: ReferencePress, later: { line: number; onUs: number }, tenths = 4): boolean {
    return 10 * (later.onUs - earlier.onUs) <= tenths * this.idealAt(later.line);
  }
  /** What an applied offset takes out of a switch's times: all of it from the later one, nothing from the other. */
  lateUs(name: Switch): number {
    const { switchOffset, binding } = this.open;
    if (!switchOffset?.applied) return 0;
    const isSecond = name === (binding === 'place' ? 'airway' : 'B');
    const isLater = isSecond ? switchOffset.medianMs > 0 : switchOffset.medianMs < 0;
    return isLater ? us(Math.abs(switchOffset.medianMs)) : 0;
  }
  /** As isClose, but settled as soon as time shows that nobody came: T as it is at every line between. */
  isFollowed(press: ReferencePress, by: { line: number; onUs: number }): boolean {
    for (let line = press.line + 1; line <= by.line; line += 1)
      if (!this.isClose(press, { line, onUs: us(this.lines[line]?.at ?? 0) - press.lateUs })) return false;
    return true;
  }

  /** The airway in force when a line comes. */
  airwayAt(line: number): Airway {
    const call = this.lines.slice(0, line).findLast((one) => one.kind === 'call' && one.call === 'airway');
    return call?.kind === 'call' && call.call === 'airway' ? call.airway : this.open.airway;
  }

  /** Repeats first, then bounce: pairs of an up and the next down. */
  private cleanUp(name: Switch): ReferencePress[] {
    let isDown = false;
    const lateUs = this.lateUs(name);
    const edges = this.lines
      .flatMap((line, index) =>
        line.kind === 'edge' && line.switch === name ? [{ ...line, index, atUs: us(line.at) - lateUs }] : [],
      )
      .filter((edge) => {
        const counts = edge.down !== isDown;
        isDown = edge.down;
        return counts;
      });
    const isBounce = edges.map((edge, index) => {
      const before = edges[index - 1];
      return edge.down && before !== undefined && edge.atUs - before.atUs < us(this.open.bounceMs);
    });
    const clean = edges.filter((_, index) => !isBounce[index] && !isBounce[index + 1]);
    const endUs = us(this.lines.at(-1)?.at ?? 0) - lateUs;
    return clean.flatMap((edge, index) => {
      if (!edge.down) return [];
      const up = clean[index + 1];
      return [
        {
          line: edge.index,
          switch: name,
          onUs: edge.atUs,
          offUs: up?.atUs ?? endUs,
          isMeasured: up !== undefined && up.lost !== true,
          lateUs,
        },
      ];
    });
  }
}

/** Without unknown lines, and without what was undone. */
function countingLines(numbered: readonly NumberedLine[]): NumberedLine[] {
  let kept: NumberedLine[] = [];
  for (const entry of numbered) {
    if (entry.line.kind === 'unknown') continue;
    if (entry.line.kind === 'call' && entry.line.call === 'undo') {
      const latest = kept.findLast(
        ({ line }) => line.kind === 'call' && line.call !== 'begin' && line.call !== 'undo',
      )?.line;
      const now = entry.line.at;
      if (latest?.kind === 'call' && (latest.call === 'finish' || us(now) - us(latest.at) <= 5_000_000)) {
        kept = kept.filter(({ line }) => line !== latest);
        continue;
      }
    }
    kept.push(entry);
  }
  return kept;
}
