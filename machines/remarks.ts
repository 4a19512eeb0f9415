import type { DrillFold } from './drill-fold.ts';
import type { Line, MarkLine, Person, SignatureLine } from './journal.ts';
import { toUs, type Us } from './units.ts';

/** What the instructor says of a drill, after it was closed or before; it may come from any window, and changes no press. */
export type RemarkLine = MarkLine | SignatureLine;

export function isRemark(line: Line): line is RemarkLine {
  return line.kind === 'mark' || line.kind === 'signature';
}

/** The instructor's latest signature for a person, or null while there is none. Never on a rhythm rig. */
export function signatureOf({ remarks }: Pick<DrillFold, 'remarks'>, person: Person): SignatureLine | null {
  return remarks.signatures.get(person)?.line ?? null;
}

/** Keeps the latest mark of each row, and the latest signature for each person. */
export class Remarks {
  /** The latest mark of each row and the number of its line, by the row's start in microseconds. */
  readonly marks = new Map<Us, { missed: boolean; number: number }>();
  /** Starts of the rows that are left out, in microseconds. */
  readonly leftOut = new Set<Us>();
  /** The latest signature for each person, and which rows were left out when it was made. */
  readonly signatures = new Map<Person, { line: SignatureLine; without: ReadonlySet<Us> }>();

  take(number: number, line: RemarkLine): void {
    if (line.kind === 'signature') {
      this.signatures.set(line.person, { line, without: new Set(this.leftOut) });
      return;
    }
    const startUs = toUs(line.row);
    this.marks.set(startUs, { missed: line.missed, number });
    if (line.missed) this.leftOut.add(startUs);
    else this.leftOut.delete(startUs);
  }

  /** Are other rows left out now than when one of the two was signed for? False while nobody has signed. */
  get isChangedSinceSigned(): boolean {
    const { leftOut } = this;
    return [...this.signatures.values()].some(
      ({ without }) => without.size !== leftOut.size || [...leftOut].some((startUs) => !without.has(startUs)),
    );
  }
}
