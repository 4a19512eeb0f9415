import type { Pad } from '../../renderer/switches/pad-controls.ts';

/** A game pad as a page sees it: samples replace each other, and each has the time it was taken. */
export class FakePads {
  readonly slots: (Pad | null)[] = [null, null];

  plugIn(index: number, id: string, buttons = 4, axes: readonly number[] = [0, 0]): void {
    this.slots[index] = { id, index, timestamp: 0, buttons: buttonsOf(Array(buttons).fill(0)), axes };
  }

  unplug(index: number): void {
    this.slots[index] = null;
  }

  /** A new sample, taken at `atMs` of the page's clock. */
  sample(
    index: number,
    atMs: number,
    change: { buttons?: Record<number, number>; axes?: readonly number[] },
  ): void {
    const before = this.slots[index];
    if (before === null || before === undefined) throw new Error(`no pad is plugged in at ${index}`);
    const values = before.buttons.map(({ value }, button) => change.buttons?.[button] ?? value);
    this.slots[index] = {
      ...before,
      timestamp: atMs,
      buttons: buttonsOf(values),
      axes: change.axes ?? before.axes,
    };
  }
}

function buttonsOf(values: readonly number[]): Pad['buttons'] {
  return values.map((value) => ({ value, pressed: value > 0.1 }));
}
