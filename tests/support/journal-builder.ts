import {
  type BodyLine,
  type CallLine,
  checkLine,
  type OpenLine,
  type Switch,
} from '../../machines/journal.ts';
import type { NumberedLine } from '../../machines/journal-reader.ts';
import { replay } from '../../machines/replay.ts';
import { type DrillReport, reportOf } from '../../machines/scoring/report.ts';

/** An open line as a test needs it; bounce off unless asked for, so that times are what they seem. */
export function openLine(over: Partial<OpenLine> = {}): OpenLine {
  const binding = over.binding ?? 'place';
  const source = { kind: 'keyboard', stepMs: 1 };
  return {
    kind: 'open',
    version: 1,
    id: '7b1f7c1e-6d5a-4d0e-9a44-0c5b7c1d2e3f',
    openedAt: '2026-03-02T09:30:00.000Z',
    pattern: 'newborn-3-1',
    guideline: 'us-style',
    rig: binding === 'person' ? 'rhythm' : 'manikin',
    airway: 'mask',
    binding,
    tolerance: 'standard',
    cycleMs: 2000,
    bounceMs: 0,
    sources: binding === 'place' ? { chest: source, airway: source } : { A: source, B: source },
    people: { A: 'Ada', B: 'Ben' },
    roles: { compressor: 'A', ventilator: 'B' },
    technique: 'two-thumb',
    stance: 'foot-end',
    guidance: 'unled',
    ...over,
  };
}

/** `Omit` that keeps a union a union. */
type Without<T, K extends PropertyKey> = T extends unknown ? Omit<T, K> : never;
type CallDetails = Without<CallLine, 'kind' | 'at'>;

/** Collects a drill's lines in any order; lines of equal time keep the order they were added in. */
export class JournalBuilder {
  readonly open: OpenLine;
  private readonly added: { at: number; line: BodyLine }[] = [];

  constructor(over: Partial<OpenLine> = {}) {
    this.open = openLine(over);
  }

  line(line: BodyLine): this {
    this.added.push({ at: line.kind === 'unknown' ? (line.at ?? 0) : line.at, line });
    return this;
  }

  call(at: number, details: CallDetails | CallDetails['call']): this {
    const parsed = checkLine({
      kind: 'call',
      at,
      ...(typeof details === 'string' ? { call: details } : details),
    });
    if (!parsed.ok) throw new Error(`${parsed.field} ${parsed.problem}`);
    return this.line(parsed.line as BodyLine);
  }

  /** A press of a switch from `on` to `off` ms. */
  press(name: Switch, on: number, off: number): this {
    return this.down(name, on).up(name, off);
  }
  down(name: Switch, at: number): this {
    return this.line({ kind: 'edge', at, switch: name, down: true });
  }
  up(name: Switch, at: number, lost = false): this {
    return this.line({ kind: 'edge', at, switch: name, down: false, ...(lost ? { lost } : {}) });
  }

  /** Compressions of 200 ms and a breath of 400 ms, at the given onsets, on the chest and airway switches. */
  cycle(
    compressions: readonly number[],
    breath: number | null,
    chest: Switch = 'chest',
    airway: Switch = 'airway',
  ): this {
    for (const on of compressions) this.press(chest, on, on + 200);
    return breath === null ? this : this.press(airway, breath, breath + 400);
  }

  /** Ideal cycles: a press every quarter of `cycleMs`, from `start`. */
  ideal(
    start: number,
    count: number,
    cycleMs = 2000,
    chest: Switch = 'chest',
    airway: Switch = 'airway',
  ): this {
    const beat = cycleMs / 4;
    for (let cycle = 0; cycle < count; cycle += 1) {
      const at = start + cycle * cycleMs;
      this.cycle([at, at + beat, at + 2 * beat], at + 3 * beat, chest, airway);
    }
    return this;
  }

  get lines(): NumberedLine[] {
    return this.added
      .map((entry, order) => ({ ...entry, order }))
      .sort((one, other) => one.at - other.at || one.order - other.order)
      .map(({ line }, index) => ({ number: index + 2, line }));
  }

  report(): DrillReport {
    return reportOf(replay(this.open, this.lines));
  }
}
