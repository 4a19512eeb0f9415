import type { DrillFold } from './drill-fold.ts';
import type { Line, MarkLine, SignatureLine } from './journal.ts';
import { toUs, type Us } from './units.ts';

/** What the instructor says of a drill, after it was closed or before; it may come from any window, and changes no press. */
export type RemarkLine = MarkLine | SignatureLine;

export function isRemark(line: Line): line is RemarkLine {
  return line.kind === 'mark' || line.kind === 'signature';
}

/** The instructor's latest signature under a drill, or null while there is none. Never on a rhythm rig. */
export function signatureOf({ remarks }: Pick<DrillFold, 'remarks'>): SignatureLine | null {
  return remarks.signature;
}

/** Keeps the latest mark of each row, and the latest signature. */
export class Remarks {
  /** The latest mark of each row and the number of its line, by the row's start in microseconds. */
  readonly marks = new Map<Us, { missed: boolean; number: number }>();
  /** Starts of the rows that are left out, in microseconds. */
  readonly leftOut = new Set<Us>();
  signature: SignatureLine | null = null;
  private signedWithout: ReadonlySet<Us> = new Set();

  take(number: number, line: RemarkLine): void {
    if (line.kind === 'signature') {
      this.signature = line;
      this.signedWithout = new Set(this.leftOut);
      return;
    }
    const startUs = toUs(line.row);
    this.marks.set(startUs, { missed: line.missed, number });
    if (line.missed) this.leftOut.add(startUs);
    else this.leftOut.delete(startUs);
  }

  /** Are other rows left out now than when it was signed? False while nobody has signed. */
  get isChangedSinceSigned(): boolean {
    const { signature, signedWithout, leftOut } = this;
    if (signature === null) return false;
    return signedWithout.size !== leftOut.size || [...leftOut].some((startUs) => !signedWithout.has(startUs));
  }
}
