import type { CallName } from './journal.ts';
import type { NumberedLine } from './journal-reader.ts';
import { toUs, type Us } from './units.ts';

const UNDO_WINDOW_US: Us = 5_000_000;

/** A call can be taken back for 5 s (tool default); a finish, until the drill is closed. */
export function canBeTakenBack(call: CallName, calledUs: Us, nowUs: Us): boolean {
  return call === 'finish' || nowUs - calledUs <= UNDO_WINDOW_US;
}

/**
 * Finds what each `undo` takes back: the latest call that is neither begin nor taken back before,
 * if it was made in the last 5 s. Both lines are then treated as if neither were there.
 */
export class UndoResolver {
  private readonly calls: { number: number; atUs: Us; call: CallName }[] = [];
  private readonly takenBack = new Set<number>();

  /** Takes the next line; true when it is an undo that takes a call back. */
  take({ number, line }: NumberedLine): boolean {
    if (line.kind !== 'call' || line.call === 'begin') return false;
    const atUs = toUs(line.at);
    if (line.call !== 'undo') {
      this.calls.push({ number, atUs, call: line.call });
      return false;
    }
    const latest = this.calls.at(-1);
    if (latest === undefined || !canBeTakenBack(latest.call, latest.atUs, atUs)) return false;
    this.calls.pop();
    this.takenBack.add(latest.number).add(number);
    return true;
  }

  /** Does the line still count? */
  counts(number: number): boolean {
    return !this.takenBack.has(number);
  }
}

/** The lines that count, once every undo has taken back its call. */
export function withoutUndone(lines: readonly NumberedLine[]): readonly NumberedLine[] {
  const resolver = new UndoResolver();
  let hasUndone = false;
  for (const line of lines) if (resolver.take(line)) hasUndone = true;
  return hasUndone ? lines.filter((line) => resolver.counts(line.number)) : lines;
}
