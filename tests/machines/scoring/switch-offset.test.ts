import { describe, expect, it } from 'vitest';
import { checkLine, type OpenLine } from '../../../machines/journal.ts';
import { JournalBuilder, openLine } from '../../support/journal-builder.ts';

const offset = (medianMs: number, applied: boolean) => ({
  switchOffset: { medianMs, spreadMs: 2, errorMs: 3, n: 10, applied },
});
/** Three cycles as lines tell them: compressions at 0, 500 and 1000, the breath 480 after the third. */
function drill(over: Partial<OpenLine>): JournalBuilder {
  const journal = new JournalBuilder(over).call(0, 'begin');
  for (const at of [1000, 3000, 5000, 7000]) journal.cycle([at, at + 500, at + 1000], at + 1480);
  return journal.call(8900, 'finish');
}

describe('an offset between the switches', () => {
  it('is taken out of the breath’s times when the airway switch is the later', () => {
    const [bout] = drill(offset(30, true)).report().bouts;
    expect(bout).toMatchObject({
      startMs: 1000,
      breathLagMs: { mean: 450, n: 3 },
      restartLagMs: { mean: 550 },
      ventilator: { dwellMs: { mean: 400 } },
    });
  });
  it('is taken out of the compressions’ times when the chest switch is the later', () => {
    const [bout] = drill(offset(-30, true)).report().bouts;
    expect(bout).toMatchObject({
      startMs: 970,
      breathLagMs: { mean: 510, n: 3 },
      restartLagMs: { mean: 490 },
      cycleMs: { mean: 2000 },
      compressor: { dwellMs: { mean: 200 } },
    });
  });
  it('stays in the score when it is not applied, and when it is not known', () => {
    for (const over of [offset(30, false), {}])
      expect(drill(over).report().bouts[0]).toMatchObject({ breathLagMs: { mean: 480, n: 3 } });
  });
  it('leaves the order of presses as it came: a breath moved before its cycle has a negative lag', () => {
    // By lines the breath comes 10 ms after the only compression; by time 50 ms before it.
    const journal = new JournalBuilder(offset(60, true)).call(0, 'begin');
    for (const at of [1000, 2000, 3000]) journal.cycle([at], at + 10);
    const report = journal.call(4000, 'finish').report();
    expect(report.drill.cycles).toEqual({ total: 2, exact: 0, coordinated: 0 });
    // Held for 200 ms, 250 ms of it after the breath's onset; 200 ms shared, in either cycle.
    expect(report.drill.clash).toEqual({
      count: 2,
      byBreath: 0,
      byCompression: 2,
      letGoLate: 0,
      overlapMs: 400,
    });
  });
  it('lets a breath meet an earlier compression of its cycle, once it is moved before that one’s release', () => {
    // By lines the breath follows both compressions; at 975 it meets the first for 55 ms, and the second begins in it.
    const journal = new JournalBuilder(offset(100, true)).call(0, 'begin');
    journal.press('chest', 900, 1030).press('chest', 1040, 1070).press('airway', 1075, 1475);
    journal.press('chest', 2000, 2100).call(3000, 'finish');
    expect(journal.report().drill.clash).toEqual({
      count: 1,
      byBreath: 1,
      byCompression: 1,
      letGoLate: 0,
      overlapMs: 85,
    });
  });
  it('moves the later person’s presses with a switch for each person, in either role', () => {
    const journal = new JournalBuilder({ binding: 'person', rig: 'rhythm', ...offset(40, true) }).call(
      0,
      'begin',
    );
    journal.ideal(1000, 3, 2000, 'A', 'B').call(6900, 'swap').ideal(7500, 4, 2000, 'B', 'A');
    const report = journal.call(16_000, 'finish').report();
    expect(report.handovers).toMatchObject([{ outcome: 'taken up', firstNewMs: 7460 }]);
    expect(report.bouts).toMatchObject([
      { breathLagMs: { mean: 460 } },
      { startMs: 7460, breathLagMs: { mean: 540 } },
    ]);
  });
});

describe('an open line’s offset and bounce', () => {
  const open = (over: object) => checkLine({ ...openLine(), ...over });
  it('may be there or not', () => {
    const source = { kind: 'game-pad', stepMs: 8, bounceMs: 3.5 };
    expect(open({ ...offset(-12.5, true), sources: { chest: source, airway: source } })).toMatchObject({
      ok: true,
      unknownFields: 0,
      line: { switchOffset: { medianMs: -12.5, applied: true }, sources: { chest: { bounceMs: 3.5 } } },
    });
    expect(open({})).toMatchObject({ ok: true });
  });
  it.each([
    [{ medianMs: 100.001 }, 'switchOffset.medianMs', 'is not -100 to 100 ms'],
    [{ errorMs: -1 }, 'switchOffset.errorMs', 'is not 0 to 1000 ms'],
    [{ applied: 'yes' }, 'switchOffset.applied', 'is not true or false'],
    [{ n: undefined }, 'switchOffset.n', 'is missing'],
  ])('is refused with %j', (wrong, field, problem) => {
    expect(open({ switchOffset: { ...offset(1, true).switchOffset, ...wrong } })).toEqual({
      ok: false,
      field,
      problem,
    });
  });
});
