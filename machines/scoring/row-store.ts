import { GUIDANCES } from '../journal.ts';
import type { CycleRow, RowPress } from './cycle-row.ts';

const CHUNK = 1 << 14;
const WIDE = -1;
const WIDE_BASE = 2 ** 30;
/** The longest row: header, clash and presses; a row lies in one chunk, or in a chunk of its own. */
const HEADER = 10;

/**
 * Keeps complete cycles in order, packed into whole numbers of four bytes: some 90 bytes a row,
 * so that a million edges stay under 20 MB. Rows go in and come out as plain objects.
 */
export class RowStore {
  private readonly chunks: Int32Array[] = [];
  private readonly places: number[] = [];
  private used = 0;

  get size(): number {
    return this.places.length / 2;
  }

  /** Bytes held for rows, the unused end of the last chunk included. */
  get bytes(): number {
    return this.chunks.reduce((sum, chunk) => sum + chunk.byteLength, 0) + this.places.length * 8;
  }

  append(row: CycleRow): void {
    const most = 3 * (HEADER + 1 + 2 * (row.compressions.length + row.breaths.length));
    const last = this.chunks.at(-1);
    if (last === undefined || this.used + most > last.length) {
      this.chunks.push(new Int32Array(Math.max(CHUNK, most)));
      this.used = 0;
    }
    this.places.push(this.chunks.length - 1, this.used);
    const { clash } = row;
    this.put(row.startUs);
    this.put(row.lengthUs);
    this.put(row.idealUs);
    this.put(GUIDANCES.indexOf(row.guidance) * 2 + (row.guidanceChanged ? 1 : 0));
    this.put(clash.count);
    this.put(clash.byBreath);
    this.put(clash.byCompression);
    this.put(clash.letGoLate);
    this.put(clash.overlapUs);
    this.putPresses(row.compressions);
    this.putPresses(row.breaths);
  }

  /** The row at an index from 0 in order of time; throws a RangeError outside. */
  get(index: number): CycleRow {
    const chunk = this.chunks[this.places[index * 2] ?? -1];
    const from = this.places[index * 2 + 1];
    if (chunk === undefined || from === undefined) throw new RangeError(`no row ${index} of ${this.size}`);
    const reader = { chunk, at: from };
    const startUs = take(reader);
    const lengthUs = take(reader);
    const idealUs = take(reader);
    const guidanceCode = take(reader);
    const clash = {
      count: take(reader),
      byBreath: take(reader),
      byCompression: take(reader),
      letGoLate: take(reader),
      overlapUs: take(reader),
    };
    return {
      startUs,
      lengthUs,
      idealUs,
      guidance: GUIDANCES[guidanceCode >> 1] ?? 'unled',
      guidanceChanged: guidanceCode % 2 === 1,
      clash,
      compressions: takePresses(reader),
      breaths: takePresses(reader),
    };
  }

  /** The rows from `from` up to but not with `to`. */
  slice(from: number, to: number): CycleRow[] {
    const rows: CycleRow[] = [];
    for (let index = from; index < to; index += 1) rows.push(this.get(index));
    return rows;
  }

  private putPresses(presses: readonly RowPress[]): void {
    this.put(presses.length);
    for (const press of presses) {
      this.put(press.onUs);
      this.put((press.offUs - press.onUs) * 2 + (press.isMeasured ? 1 : 0));
    }
  }

  /** Whole numbers: one place from 0 to 2³⁰, else a marker and two. Below 0: a breath moved before its cycle's start by an offset. */
  private put(value: number): void {
    const chunk = this.chunks.at(-1);
    if (chunk === undefined) return;
    if (value >= 0 && value < WIDE_BASE) {
      chunk[this.used++] = value;
    } else {
      chunk[this.used++] = WIDE;
      chunk[this.used++] = Math.floor(value / WIDE_BASE);
      chunk[this.used++] = value - Math.floor(value / WIDE_BASE) * WIDE_BASE;
    }
  }
}

type Reader = { readonly chunk: Int32Array; at: number };

function take(reader: Reader): number {
  const value = reader.chunk[reader.at++] ?? 0;
  if (value !== WIDE) return value;
  const high = reader.chunk[reader.at++] ?? 0;
  return high * WIDE_BASE + (reader.chunk[reader.at++] ?? 0);
}

function takePresses(reader: Reader): RowPress[] {
  const count = take(reader);
  const presses: RowPress[] = [];
  for (let index = 0; index < count; index += 1) {
    const onUs = take(reader);
    const coded = take(reader);
    presses.push({ onUs, offUs: onUs + Math.floor(coded / 2), isMeasured: coded % 2 === 1 });
  }
  return presses;
}
