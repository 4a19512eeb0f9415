import { describe, expect, it } from 'vitest';
import { DrillDriver } from '../../machines/drill-driver.ts';
import { SwitchWatch } from '../../machines/switch-watch.ts';
import { JournalBuilder } from '../support/journal-builder.ts';

/** Every doubt over a drill, with the number of the line that brought it. */
function doubtsOf(journal: JournalBuilder): string[] {
  const driver = new DrillDriver(journal.open);
  const watch = new SwitchWatch(journal.open.binding);
  return journal.lines.flatMap((line) => {
    driver.take([line]);
    return watch
      .take(line.line, driver.runningBout)
      .map((doubt) => `${line.line.kind === 'unknown' ? '' : line.line.at} ${doubt.switch} ${doubt.what}`);
  });
}

function chestOnly(journal: JournalBuilder, fromMs: number, count: number): JournalBuilder {
  for (let press = 0; press < count; press += 1)
    journal.press('chest', fromMs + press * 500, fromMs + press * 500 + 200);
  return journal;
}

describe('a switch that is silent for a whole bout', () => {
  it('is told when the bout ends', () => {
    expect(doubtsOf(chestOnly(new JournalBuilder().call(0, 'begin'), 1000, 9).call(6000, 'rest'))).toEqual([
      '6000 airway silent',
    ]);
  });

  it('is told at a handover too, of the bout before it, and of each such bout', () => {
    const journal = chestOnly(new JournalBuilder().call(0, 'begin'), 1000, 9).call(5100, 'swap');
    chestOnly(journal, 8000, 9).call(13_000, 'finish');
    expect(doubtsOf(journal)).toEqual(['8000 airway silent', '13000 airway silent']);
  });

  it('is none with a single breath, nor in a bout of a few compressions', () => {
    const one = chestOnly(new JournalBuilder().call(0, 'begin'), 1000, 9).press('airway', 2500, 2900);
    expect(doubtsOf(one.call(6000, 'rest'))).toEqual([]);
    expect(doubtsOf(chestOnly(new JournalBuilder().call(0, 'begin'), 1000, 5).call(6000, 'rest'))).toEqual(
      [],
    );
  });

  it('is none outside bouts', () => {
    expect(
      doubtsOf(chestOnly(new JournalBuilder(), 1000, 9).call(6000, 'begin').call(7000, 'finish')),
    ).toEqual([]);
  });
});

describe('a switch that is stuck', () => {
  const down = { timeStampMs: 1000, switch: 'chest', down: true } as const;

  it('is told once when it has been down for more than three seconds', () => {
    const watch = new SwitchWatch('place');
    watch.takeEdge(down);
    expect([watch.passTime(4000), watch.passTime(4001), watch.passTime(9000)]).toEqual([
      [],
      [{ what: 'stuck', switch: 'chest' }],
      [],
    ]);
  });

  it('is none once it was let go', () => {
    const watch = new SwitchWatch('place');
    watch.takeEdge(down);
    watch.takeEdge({ ...down, timeStampMs: 1200, down: false });
    expect(watch.passTime(9000)).toEqual([]);
  });
});
