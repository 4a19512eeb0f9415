import { describe, expect, it } from 'vitest';
import { JournalBuilder } from '../../support/journal-builder.ts';

/** Clashes: two compressions at 1000 and 1500 ms (200 ms each), then the presses that meet. */
type Span = readonly [on: number, off: number];
const meeting = (third: Span, breath: Span, next: Span) =>
  new JournalBuilder()
    .call(0, 'begin')
    .cycle([1000, 1500], null)
    .press('chest', ...third)
    .press('airway', ...breath)
    .press('chest', ...next);
const clashOf = (journal: JournalBuilder) => journal.report().drill.clash;
const none = { count: 0, byBreath: 0, byCompression: 0, letGoLate: 0, overlapMs: 0 };

describe('a breath too soon', () => {
  it.each([
    [2550, 0, 50], // 50 ms into the breath: no clash
    [2550.001, 1, 50.001],
  ])('with the compression let up at %s ms: %s', (off, byBreath, overlapMs) => {
    const clash = clashOf(meeting([2000, off], [2500, 2800], [3000, 3200]));
    expect(clash).toEqual({ ...none, count: byBreath, byBreath, overlapMs });
  });
  it('can begin with the compression', () => {
    // Both at 2500, the compression's line first or last: c.on ≤ b.on, 100 ms > 50.
    const before = clashOf(meeting([2500, 2600], [2500, 2800], [3000, 3200]));
    expect(before).toEqual({ ...none, count: 1, byBreath: 1, overlapMs: 100 });
    const after = clashOf(meeting([2000, 2200], [2500, 2800], [2500, 2600]));
    expect(after).toEqual({ ...none, count: 1, byBreath: 1, overlapMs: 100 });
  });
});

describe('a compression too soon', () => {
  it.each([
    [2799.999, 2900, 1, 0], // inside the first 300 ms
    [2800, 2900, 0, 0], // no longer; 100 ms late is not over 100
    [2699.999, 2700, 1, 0],
    [2700, 2700, 0, 0], // at the breath's end
    [2500.001, 2900, 1, 0],
  ])('at %s ms in a breath from 2500 to %s ms: %s', (on, off, byCompression, letGoLate) => {
    const clash = clashOf(meeting([2000, 2200], [2500, off], [on, on + 300]));
    expect(clash).toMatchObject({ count: byCompression, byBreath: 0, byCompression, letGoLate });
  });
});

describe('a breath let go late', () => {
  it.each([
    [2800, 2900, 0], // 100 ms
    [2800, 2900.001, 1],
    [2799.999, 2900.001, 0], // begun too soon instead
  ])('with a compression at %s ms and let go at %s ms: %s', (on, off, letGoLate) => {
    expect(clashOf(meeting([2000, 2200], [2500, off], [on, on + 300])).letGoLate).toBe(letGoLate);
  });
  it('voids nothing', () => {
    // A breath of 700 ms, from 2500 to 3200; the next start at 3000: 200 ms shared.
    const { cycles, clash } = meeting([2000, 2200], [2500, 3200], [3000, 3200]).report().drill;
    expect(clash).toEqual({ ...none, letGoLate: 1, overlapMs: 200 });
    expect(cycles.coordinated).toBe(1);
  });
});

describe('a breath that clashes', () => {
  it('takes its cycle out of the coordinated ones', () => {
    expect(meeting([2000, 2551], [2500, 2800], [3000, 3200]).report().drill.cycles).toEqual({
      total: 1,
      exact: 1,
      coordinated: 0,
    });
  });
  it('both ways counts once, under both faults', () => {
    // Compression until 2600, breath 2500 to 2900, next at 2700: 100 + 200 ms shared.
    const clash = clashOf(meeting([2000, 2600], [2500, 2900], [2700, 3000]));
    expect(clash).toEqual({ count: 1, byBreath: 1, byCompression: 1, letGoLate: 0, overlapMs: 300 });
  });
  it('belongs to the breath’s cycle, also when the compression’s own is dropped', () => {
    // The next start is the bout's last compression, its cycle open at the end.
    const { bouts } = meeting([2000, 2200], [2500, 2900], [2700, 2800]).report();
    expect(bouts[0]?.clash).toEqual({ ...none, count: 1, byCompression: 1, overlapMs: 100 });
  });
  it('is found for each of two breaths of a cycle', () => {
    // Compression 2000 to 2700; breaths 2500–2600 and 2650–2800, both over 50 ms before it was let up… the second
    // by 50 exactly: no. Shared 100 + 50.
    const journal = meeting([2000, 2700], [2500, 2600], [3000, 3200]).press('airway', 2650, 2800);
    expect(clashOf(journal)).toEqual({ ...none, count: 1, byBreath: 1, overlapMs: 150 });
  });
  it('meets only compressions of its own bout', () => {
    // A breath held from 2500 to 8000. Of its bout: 3000–3200. In the bout after the rest: 6000–6200, not counted.
    const journal = meeting([2000, 2200], [2500, 8000], [3000, 3200])
      .call(4000, 'rest')
      .call(5000, 'resume')
      .press('chest', 6000, 6200);
    expect(clashOf(journal)).toEqual({ ...none, letGoLate: 1, overlapMs: 200 });
  });
  it('meets every compression while it is held', () => {
    // 2500 to 4600 over 3000–3200, 3500–3700, 4000–4200, 4500–4700: 200 + 200 + 200 + 100.
    const journal = meeting([2000, 2200], [2500, 4600], [3000, 3200]).cycle([3500, 4000, 4500], null);
    expect(clashOf(journal)).toEqual({ ...none, letGoLate: 1, overlapMs: 700 });
  });
});
