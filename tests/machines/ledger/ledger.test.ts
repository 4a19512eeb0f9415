import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { filterEntries, NO_FILTER, peopleOf } from '../../../machines/ledger/filter.ts';
import { type LedgerEntry, ledgerEntryOf } from '../../../machines/ledger/ledger-entry.ts';
import { personPageOf } from '../../../machines/ledger/person-page.ts';
import { READY_MADE } from '../../../machines/plans/ready-made.ts';
import { type RehearsalOptions, rehearse } from '../../../machines/rehearsal/rehearse.ts';
import { replay } from '../../../machines/replay.ts';
import { reportOf } from '../../../machines/scoring/report.ts';
import { withPlusMinus } from '../../../machines/scoring/report-plus-minus.ts';
import { dayAfter } from '../../../machines/wall-clock.ts';
import { anyJournal } from '../../support/arbitrary-journal.ts';
import { JournalBuilder } from '../../support/journal-builder.ts';

function journalOf(options: Partial<RehearsalOptions>, filed?: { title: string | null; archived: boolean }) {
  const { open, lines } = rehearse({ seed: 1, minutes: 1, plan: 'steady', ...options });
  return {
    open: { ...open, ...(filed === undefined ? {} : { filed }) },
    lines: lines.map((line, index) => ({ number: index + 2, line })),
    isClosed: lines.at(-1)?.kind === 'close',
    skipped: { lines: 0, fields: 0, tornBytes: 0 },
  };
}
const entryOf = (options: Partial<RehearsalOptions>, filed?: { title: string | null; archived: boolean }) =>
  ledgerEntryOf(journalOf(options, filed), `${options.openedAt ?? 'a'}.antiphon.jsonl`);
const day = (number: number) => `2026-03-${String(number).padStart(2, '0')}T09:30:00.000Z`;

describe('what the Ledger keeps of a drill', () => {
  test('the primary figures with their ±, as the report has them, under who held which role', () => {
    const journal = journalOf({ minutes: 2 });
    const entry = ledgerEntryOf(journal, 'a.antiphon.jsonl');
    const fold = replay(journal.open, journal.lines);
    const { drill } = withPlusMinus(reportOf(fold), fold);
    const kept = {
      cycles: drill.cycles.total,
      coordinated: drill.cycles.coordinated,
      coordinatedShare: { value: drill.coordinatedShare, plusMinus: drill.plusMinus?.coordinatedShare },
      cycleJitterMs: { value: drill.cycleJitterMs, plusMinus: drill.plusMinus?.cycleJitterMs },
      breathLagRatio: { value: drill.breathLagRatio.mean, plusMinus: drill.plusMinus?.breathLagRatio.mean },
    };
    expect(entry).toEqual({
      drillId: journal.open.id,
      fileName: 'a.antiphon.jsonl',
      openedAt: '2026-03-02T09:30:00.000Z',
      names: { A: 'Ada', B: 'Ben' },
      rig: 'manikin',
      plan: null,
      techniques: ['two-thumb'],
      stances: ['foot-end'],
      guidances: ['unled'],
      boutSeconds: drill.attempt.ms / 1000,
      isClosed: true,
      cycles: { total: drill.cycles.total, coordinated: drill.cycles.coordinated },
      isSlowed: false,
      isCold: false,
      people: { A: { compressor: kept, ventilator: null }, B: { compressor: null, ventilator: kept } },
      title: null,
      isArchived: false,
    });
    expect(entry.cycles.total).toBeGreaterThan(50);
  });

  test.each([
    ['led', { guidance: 'led' }, { isSlowed: false, guidances: ['led'] }],
    ['slowed', { cycleMs: 3000 }, { isSlowed: true, guidances: ['unled'] }],
  ] as const)('a %s drill has no figures for a trend', (_what, options, facts) => {
    const none = { compressor: null, ventilator: null };
    expect(entryOf(options)).toMatchObject({ ...facts, people: { A: none, B: none } });
  });

  test('a cold minute is known by its plan, and what a drill was filed under stands with it', () => {
    const filed = { title: 'Before the course', archived: true };
    expect(entryOf({ plan: 'cold-minute' }, filed)).toMatchObject({
      isCold: true,
      plan: 'Cold minute',
      title: 'Before the course',
      isArchived: true,
    });
  });
});

describe('what a person’s page has of a drill', () => {
  const kept = (builder: JournalBuilder) =>
    ledgerEntryOf(
      {
        open: builder.open,
        lines: builder.lines,
        isClosed: true,
        skipped: { lines: 0, fields: 0, tornBytes: 0 },
      },
      'a.antiphon.jsonl',
    ).people.A.compressor;

  test('is by the standard tolerance, whatever the drill’s own was: a trend has one', () => {
    const slow = (tolerance: 'standard' | 'first') =>
      kept(new JournalBuilder({ tolerance }).call(0, 'begin').ideal(1000, 30, 2240).call(70_000, 'finish'));
    expect(slow('first')).toEqual(slow('standard'));
    expect(slow('first')).toMatchObject({ cycles: 29, coordinated: 0 });
  });

  test('is of a cold drill its first minute, and nothing after the teaching', () => {
    const drill = new JournalBuilder({ plan: READY_MADE['cold-minute'] })
      .call(0, 'begin')
      .ideal(1000, 15, 2240)
      .call(40_000, 'rest')
      .call(41_000, { call: 'guidance', guidance: 'led' })
      .call(42_000, 'resume')
      .ideal(43_000, 15)
      .call(75_000, 'rest')
      .call(76_000, { call: 'guidance', guidance: 'unled' })
      .call(77_000, 'resume')
      .ideal(78_000, 15)
      .call(110_000, 'finish');
    expect(kept(drill)).toMatchObject({ cycles: 14, coordinated: 0 });
  });

  test('has the jitter of the report where the switch missed a cycle: it does not reach over that', () => {
    const drill = new JournalBuilder()
      .call(0, 'begin')
      .ideal(1000, 5)
      .ideal(11_000, 1, 3000)
      .ideal(14_000, 6, 2200)
      .call(30_000, 'finish')
      .line({ kind: 'mark', at: 30_000, row: 11_000, missed: true });
    expect(kept(drill)?.cycleJitterMs.value).toBe(drill.report().drill.cycleJitterMs);
  });
});

test('any journal has an entry that is kept in JSON to the last digit, with no figure made of nothing', () => {
  fc.assert(
    fc.property(anyJournal(), ({ open, lines }) => {
      const skipped = { lines: 0, fields: 0, tornBytes: 0 };
      const entry = ledgerEntryOf({ open, lines, isClosed: false, skipped }, 'a.antiphon.jsonl');
      expect(JSON.parse(JSON.stringify(entry))).toEqual(entry);
      const { drill } = reportOf(replay(open, lines));
      expect(entry.cycles).toEqual({ total: drill.cycles.total, coordinated: drill.cycles.coordinated });
      for (const roles of Object.values(entry.people)) {
        for (const role of Object.values(roles)) expect(role?.cycles).not.toBe(0);
      }
    }),
    { numRuns: 300, seed: 20260302 },
  );
});

describe('a person’s page', () => {
  const entries: LedgerEntry[] = [
    entryOf({ openedAt: day(5) }),
    entryOf({ openedAt: day(1), plan: 'cold-minute' }),
    entryOf({ openedAt: day(9), people: { A: 'Cy', B: 'ADA ' } }, { title: null, archived: true }),
    entryOf({ openedAt: day(3), rig: 'rhythm', binding: 'place' }),
    entryOf({ openedAt: day(11), guidance: 'led' }),
    entryOf({ openedAt: day(12), cycleMs: 3000 }),
    entryOf({ openedAt: day(20), people: { A: 'Cy', B: 'Ben' } }),
  ];
  const page = personPageOf(entries, 'ada', 90);
  const daysOf = (points: readonly { openedAt: string; partner: string }[] | undefined) =>
    points?.map(({ openedAt, partner }) => `${openedAt.slice(8, 10)} with ${partner}`);

  test('has each role and each rig apart, cold minutes apart, and led and slowed drills in no trend', () => {
    expect(page).toMatchObject({ name: 'Ada', drills: 6, notInTrend: { led: 1, slowed: 1, noCycle: 0 } });
    expect(daysOf(page?.rigs.manikin.compressor.trend)).toEqual(['05 with Ben']);
    expect(daysOf(page?.rigs.manikin.compressor.cold)).toEqual(['01 with Ben']);
    expect(daysOf(page?.rigs.manikin.ventilator.trend)).toEqual(['09 with Cy']);
    expect(daysOf(page?.rigs.rhythm.compressor.trend)).toEqual(['03 with Ben']);
    expect(daysOf(page?.rigs.rhythm.ventilator.trend)).toEqual([]);
  });

  test('cold is compared with cold, of the same pair and technique only, with the ± of the difference', () => {
    const cold = (openedAt: string, seed: number, options: Partial<RehearsalOptions> = {}) =>
      entryOf({ openedAt, seed, plan: 'cold-minute', id: openedId(seed), ...options });
    const openedId = (seed: number) => `${String(seed).padStart(8, '0')}-0000-4000-8000-000000000000`;
    const first = cold(day(1), 1);
    const others = [
      cold(day(2), 2, { people: { A: 'Ada', B: 'Cy' } }),
      cold(day(4), 4, { people: { A: 'Ada', B: '' } }),
    ];
    const changeIn = (drills: LedgerEntry[]) =>
      personPageOf(drills, 'Ada', null)?.rigs.manikin.compressor.coldChange;
    expect(changeIn([first, ...others])).toBe(null);
    const last = cold(day(8), 8);
    const [before, after] = [first, last].map(({ people }) => people.A.compressor?.coordinatedShare);
    const differ = (after?.value ?? 0) - (before?.value ?? 0);
    expect(changeIn([last, ...others, first])).toMatchObject({
      partner: 'Ben',
      fromDrillId: first.drillId,
      toDrillId: last.drillId,
      coordinatedShare: {
        value: differ,
        plusMinus: Math.hypot(before?.plusMinus ?? Number.NaN, after?.plusMinus ?? Number.NaN),
      },
    });
    expect(differ).not.toBe(0);
  });

  test('says when they practised last, and when they are due by the course’s own interval', () => {
    expect(page?.lastPractisedAt).toEqual({ manikin: day(12), rhythm: day(3) });
    expect(page?.dueOn).toBe('2026-06-10');
    expect(personPageOf(entries, 'Ada', null)?.dueOn).toBe(null);
  });

  test('there is none of who never drilled, of nobody, and of who was removed', () => {
    expect(['Dee', ' ', 'someone'].map((name) => personPageOf(entries, name, 90))).toEqual([
      null,
      null,
      null,
    ]);
  });

  test('people are listed by name, each once', () => {
    expect(peopleOf(entries)).toEqual([
      { name: 'Ada', drills: 6, lastDrillAt: day(12) },
      { name: 'Ben', drills: 6, lastDrillAt: day(20) },
      { name: 'Cy', drills: 2, lastDrillAt: day(20) },
    ]);
  });

  test.each([
    ['everything that is not put away', {}, [20, 12, 11, 5, 3, 1]],
    ['what is put away', { archived: 'only' }, [9]],
    ['a person', { person: 'cy', archived: 'with' }, [20, 9]],
    ['some days', { from: day(3), before: day(11) }, [5, 3]],
    ['a plan', { plan: 'cold minute' }, [1]],
    ['a rig', { rig: 'rhythm' }, [3]],
    ['a technique', { technique: 'two-finger' }, []],
    ['words in any order', { text: 'ben CY' }, [20]],
    ['no words', { text: ' ' }, [20, 12, 11, 5, 3, 1]],
  ] as const)('the list shows %s', (_what, filter, days) => {
    const found = filterEntries(entries, { ...NO_FILTER, ...filter });
    expect(found.map(({ openedAt }) => Number(openedAt.slice(8, 10)))).toEqual(days);
  });
});

test.each([
  ['2026-03-02T09:30:00Z', 0, '2026-03-02'],
  ['2028-02-28T23:59:59Z', 1, '2028-02-29'],
  ['2026-12-31T00:00:00Z', 365, '2027-12-31'],
])('%s and %i days is %s', (from, days, then) => {
  expect(dayAfter(from, days)).toBe(then);
});
