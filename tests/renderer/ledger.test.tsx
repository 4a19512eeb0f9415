// @vitest-environment happy-dom
import { act } from 'react';
import { expect, test } from 'vitest';
import type { OpenLine } from '../../machines/journal.ts';
import { type RehearsalOptions, rehearse } from '../../machines/rehearsal/rehearse.ts';
import { LEDGER_PART, LedgerShelf } from '../../renderer/app/ledger-shelf.ts';
import { PlanShelf } from '../../renderer/app/plan-shelf.ts';
import { Ledger } from '../../renderer/screens/ledger.tsx';
import { numbered, SETTINGS } from '../support/drills.ts';
import { FakeBridge } from '../support/fake-bridge.ts';
import { Screen } from '../support/screen.tsx';

type Kept = Partial<RehearsalOptions> & { filed?: OpenLine['filed'] };
type Woken = { afterMs: number; then: () => void; isStopped: boolean };

function keep(bridge: FakeBridge, index: number, { filed, ...options }: Kept = {}): string {
  const drillId = `${String(index).padStart(8, '0')}-0000-4000-8000-000000000000`;
  const openedAt = options.openedAt ?? `2026-03-${String(index).padStart(2, '0')}T09:30:00.000Z`;
  const { open, lines } = rehearse({ seed: index, minutes: 0.4, plan: 'steady', ...options, id: drillId });
  const whole = { ...open, openedAt, ...(filed === undefined ? {} : { filed }) };
  bridge.drills.set(drillId, { open: whole, fileName: `${openedAt}.jsonl`, lines: numbered(lines) });
  return drillId;
}

async function show(fill: (bridge: FakeBridge) => void) {
  const bridge = new FakeBridge();
  fill(bridge);
  const woken: Woken[] = [];
  const shelf = new LedgerShelf(bridge, (afterMs, then) => {
    const one = { afterMs, then, isStopped: false };
    woken.push(one);
    return () => {
      one.isStopped = true;
    };
  });
  const opened: string[] = [];
  const content = (problem: string | null = null) => (
    <Ledger
      shelf={shelf}
      plans={new PlanShelf(bridge)}
      problem={problem}
      onDebrief={(drillId) => opened.push(drillId)}
      onLeave={() => opened.push('left')}
    />
  );
  const screen = await Screen.show(content());
  await screen.settle();
  const of = (selector: string) => [...screen.element.querySelectorAll<HTMLElement>(selector)];
  const press = async (words: string | RegExp) => {
    await screen.click(screen.button(words));
    await screen.settle();
  };
  const write = async (label: string, text: string) => {
    await screen.type(label, text);
    await screen.settle();
  };
  const choose = async (label: string, value: string) => {
    const field = of('label').find((one) => one.querySelector('.field-label')?.textContent === label);
    const select = field?.querySelector('select');
    if (select === null || select === undefined) throw new Error(`no choice is labelled ${label}`);
    await act(async () => {
      select.value = value;
      select.dispatchEvent(new Event('change', { bubbles: true }));
    });
    await screen.settle();
  };
  const changeRow = async (row: number) => {
    const button = of('.ledger-row button[aria-expanded]')[row];
    if (button === undefined) throw new Error(`no row ${row}`);
    await screen.click(button);
  };
  return {
    ...{ bridge, shelf, screen, opened, woken, content, of, press, write, choose, changeRow },
    rows: () => of('.ledger-row').map((row) => row.querySelector('div')?.textContent),
    days: () => of('.ledger-day h2').map((one) => one.textContent),
    said: () => of('[role="status"]')[0]?.textContent?.trim(),
    alert: () =>
      of('[role="alert"]')
        .map((one) => one.textContent)
        .join(''),
  };
}

const ADA_BEN = { A: 'Ada', B: 'Ben' };

test('drills stand by day, newest first, with what they were and what is particular about them', async () => {
  const { rows, days, said } = await show((bridge) => {
    const empty = bridge.drills.get(keep(bridge, 1, { people: ADA_BEN }));
    empty?.lines.splice(0);
    keep(bridge, 2, { people: ADA_BEN });
    keep(bridge, 3, {
      people: { A: 'Cy', B: 'Dee' },
      rig: 'rhythm',
      technique: 'two-finger',
      guidance: 'led',
      cycleMs: 3000,
      filed: { title: 'After the break', archived: false },
    });
    keep(bridge, 4, { plan: 'cold-minute', people: ADA_BEN });
    keep(bridge, 5, { filed: { title: null, archived: true } });
  });
  expect(days()).toEqual([
    'Wednesday, 4 March 2026',
    'Tuesday, 3 March 2026',
    'Monday, 2 March 2026',
    'Sunday, 1 March 2026',
  ]);
  expect(rows()).toEqual([
    'Ada and Benmanikin · two-thumb · Cold minute · 26 of 27 cycles coordinatedcold',
    'Cy and Dee “After the break”rhythm · two-finger · 7 of 7 cycles coordinatedledslowed',
    'Ada and Benmanikin · two-thumb · 6 of 9 cycles coordinated',
    'Ada and Benmanikin · two-thumb · no cyclenot closed',
  ]);
  expect(said()).toBe('4 drills');
});

test('an empty Ledger says so, and so does one in which nothing is as wanted', async () => {
  const empty = await show(() => undefined);
  expect(empty.said()).toBe('No drill is kept here yet.');
  const full = await show((bridge) => void keep(bridge, 2, { people: ADA_BEN }));
  await full.write('Words in the names, title or plan', 'nobody');
  expect([full.said(), full.rows()]).toEqual(['No drill is like that.', []]);
  await full.press('Show all again');
  expect([full.said(), full.rows().length]).toEqual(['1 drill', 1]);
});

test('what is shown is what is wanted: words, a person, a rig, a technique, days, and the archive', async () => {
  const { rows, write, choose, press, shelf, screen } = await show((bridge) => {
    keep(bridge, 2, { people: ADA_BEN });
    keep(bridge, 3, { people: { A: 'Cy', B: 'Ada' }, technique: 'two-finger' });
    keep(bridge, 4, { people: { A: 'Cy', B: 'Dee' }, rig: 'rhythm' });
    keep(bridge, 5, { people: { A: 'Eve', B: 'Ben' }, filed: { title: null, archived: true } });
  });
  const names = () => rows().map((row) => row?.match(/^\w+ and [A-Z][a-z]{1,2}/)?.[0]);
  await write('Words in the names, title or plan', 'cy');
  expect(names()).toEqual(['Cy and Dee', 'Cy and Ada']);
  await choose('Technique', 'two-finger');
  expect(names()).toEqual(['Cy and Ada']);
  await press('Show all again');
  await choose('Person', 'Ada');
  expect(names()).toEqual(['Cy and Ada', 'Ada and Ben']);
  await press('Show all again');
  await choose('Rig', 'rhythm');
  expect(names()).toEqual(['Cy and Dee']);
  await press('Show all again');
  await choose('Archived', 'only');
  expect(names()).toEqual(['Eve and Ben']);
  await press('Show all again');
  await act(() =>
    shelf.setDays(
      { from: '2026-03-03', to: '2026-03-03' },
      (day, after) => `${day.slice(0, 8)}0${3 + after}T00:00:00.000Z`,
    ),
  );
  await screen.settle();
  expect(names()).toEqual(['Cy and Ada']);
});

test('a long Ledger comes in parts', async () => {
  const many = LEDGER_PART + 5;
  const { rows, said, press } = await show((bridge) => {
    for (let index = 0; index < many; index += 1)
      keep(bridge, index, {
        minutes: 0.1,
        openedAt: `2026-03-02T09:${String(index % 60).padStart(2, '0')}:00.000Z`,
      });
  });
  expect([rows().length, said()]).toEqual([100, '105 drills, the last 100 of them shown']);
  await press('Show more');
  expect([rows().length, said()]).toEqual([105, '105 drills']);
});

test('while journals are still being read it says how many, and asks again by itself', async () => {
  const { bridge, screen, woken, rows } = await show((filled) => {
    keep(filled, 2);
    filled.unread = 1200;
  });
  expect(screen.text).toContain('1200 more journals are still to be read; the list grows by itself.');
  keep(bridge, 3);
  bridge.unread = 0;
  expect(woken.map(({ afterMs, isStopped }) => [afterMs, isStopped])).toEqual([[2000, false]]);
  await screen.during(() => woken[0]?.then());
  expect(screen.text).not.toContain('still to be read');
  expect([rows().length, woken.length]).toEqual([2, 1]);
});

test('files that were left alone are named with the reason', async () => {
  const { screen } = await show((bridge) => {
    bridge.leftAlone = [
      { fileName: 'a.antiphon.jsonl', why: 'newer' },
      { fileName: 'b.antiphon.jsonl', why: 'damaged' },
    ];
  });
  expect(screen.text).toContain('2 files were left alone');
  expect(screen.text).toContain('a.antiphon.jsonl was made by a newer release, and is left untouched.');
  expect(screen.text).toContain('b.antiphon.jsonl has a line that is wrong, and is left untouched.');
});

test('a title is given, a drill is archived and taken out again', async () => {
  const { bridge, screen, changeRow, press, write, said, choose } = await show((filled) => {
    keep(filled, 2);
  });
  const filed = () => [...bridge.drills.values()].map(({ open }) => open.filed);
  await changeRow(0);
  await write('Title', ' The first ');
  await press('Save the title');
  expect([filed(), said()]).toEqual([
    [{ title: 'The first', archived: false }],
    '1 drill The title is saved.',
  ]);
  await press('Archive');
  expect([filed(), said()]).toEqual([
    [{ title: 'The first', archived: true }],
    'No drill is kept here yet. The drill is archived.',
  ]);
  await choose('Archived', 'only');
  await changeRow(0);
  await press('Take out of the archive');
  expect(filed()).toEqual([{ title: 'The first', archived: false }]);
  expect(screen.text).toContain('The drill is out of the archive.');
});

test('a wrong name is put right in one drill or in all; who looked for the wrong one sees the right one', async () => {
  const { bridge, changeRow, press, write, said, screen, choose } = await show((filled) => {
    for (const index of [2, 3, 4]) keep(filled, index, { people: { A: 'Adda', B: 'Ben' } });
  });
  const firsts = () => [...bridge.drills.values()].map(({ open }) => open.people.A);
  const label = (words: string) =>
    screen.element.querySelector<HTMLElement>(`button[aria-label="${words}"]`) ?? document.body;
  await changeRow(0);
  await screen.click(label('Put right Adda in this drill'));
  expect(firsts()).toEqual(['Adda', 'Adda', 'Adda']);
  await write('Adda is to be', 'Eve');
  await screen.click(label('Put right Adda in this drill'));
  await screen.settle();
  expect([firsts(), said()]).toEqual([['Adda', 'Adda', 'Eve'], '3 drills The name is put right in 1 drill.']);
  await choose('Person', 'Adda');
  await changeRow(0);
  await write('Adda is to be', 'Ada');
  await screen.click(label('Put right Adda in every drill'));
  await screen.settle();
  expect([firsts(), said()]).toEqual([['Ada', 'Ada', 'Eve'], '2 drills The name is put right in 2 drills.']);
  await press(/Show all again/);
});

test('a drill is removed only after it was asked whether it should be', async () => {
  const { bridge, changeRow, press, rows } = await show((filled) => {
    keep(filled, 2);
    keep(filled, 3);
  });
  await changeRow(0);
  await press('Remove this drill');
  await press('Keep it');
  expect(bridge.drills.size).toBe(2);
  await press('Remove this drill');
  await press('Remove it');
  expect([bridge.drills.size, rows().length]).toEqual([1, 1]);
});

test('what the disk refuses is said, and nothing is said to be done', async () => {
  const { bridge, changeRow, press, write, said, alert } = await show((filled) => void keep(filled, 2));
  await changeRow(0);
  await write('Title', 'The first');
  bridge.failure = { ok: false, code: 'disk', message: 'the disk is full' };
  await press('Save the title');
  expect([alert(), said()]).toEqual(['That did not work: the disk is full.', '1 drill']);
});

test('a drill opens its Debrief, and the Ledger comes back where it was', async () => {
  const one = await show((filled) => {
    keep(filled, 2, { people: ADA_BEN });
    keep(filled, 3, { people: { A: 'Cy', B: 'Dee' } });
  });
  await one.write('Words in the names, title or plan', 'ada');
  await one.press('Ada and Ben');
  expect(one.opened).toEqual(['00000002-0000-4000-8000-000000000000']);
  const back = await Screen.show(one.content('the journal cannot be read back'));
  await back.settle();
  expect(back.element.querySelectorAll('.ledger-row').length).toBe(1);
  expect(document.activeElement?.textContent).toBe('Ada and Ben');
  expect(back.text).toContain('That did not work: the journal cannot be read back.');
});

test('a person’s page: by role, rigs and cold minutes apart, led and slowed in no trend, with ± and the due day', async () => {
  const { screen, choose, press, of, bridge } = await show((filled) => {
    filled.settings = SETTINGS;
    for (const index of [2, 3]) keep(filled, index, { people: ADA_BEN });
    for (const index of [4, 9]) keep(filled, index, { people: ADA_BEN, plan: 'cold-minute' });
    keep(filled, 5, { people: { A: 'Cy', B: 'Ada' }, rig: 'rhythm' });
    keep(filled, 6, { people: ADA_BEN, guidance: 'led' });
  });
  await choose('Person', 'Ada');
  await press('Ada’s page');
  expect(of('h1')[0]?.textContent).toBe('Ada');
  expect(of('dd').map((one) => one.textContent)).toEqual([
    '6',
    '1 led or weaned, 0 slowed, 0 without a cycle',
    'manikin: 9 Mar 2026; rhythm: 5 Mar 2026',
    'the course’s interval is not set',
  ]);
  expect(of('h2, h3').map((one) => one.textContent)).toEqual([
    'As compressor, manikin rig',
    'Without a count, at the usual tempo',
    'Cold minutes, apart',
    'As ventilator, rhythm rig',
    'Without a count, at the usual tempo',
  ]);
  const tables = of('table').map((table) =>
    [...table.querySelectorAll('tbody tr')].map((row) => row.firstElementChild?.textContent),
  );
  expect(tables).toEqual([
    ['2 Mar 2026, 09:30', '3 Mar 2026, 09:30'],
    ['4 Mar 2026, 09:30', '9 Mar 2026, 09:30'],
    ['5 Mar 2026, 09:30'],
  ]);
  expect(of('svg').length).toBe(9);
  expect(screen.text).toMatch(
    /The last two cold minutes with Ben differ by \(later less earlier\): coordinated/,
  );
  expect(screen.text).toContain('A figure belongs to the pair');
  const field = of('.interval input')[0] as HTMLInputElement;
  const days = async (text: string) => {
    await act(async () => {
      Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')?.set?.call(field, text);
      field.dispatchEvent(new Event('input', { bubbles: true }));
    });
    await press('Save the interval');
  };
  await days('0');
  expect(screen.text).toContain('A whole number of days from 1 to 3650, or nothing.');
  await days('90');
  expect(bridge.settings).toEqual({ ...SETTINGS, dueAfterDays: 90 });
  expect(of('dd').at(-1)?.textContent).toBe('7 Jun 2026');
});

test('a person is removed once the name is typed, and the search of the folder is shown', async () => {
  const { bridge, screen, changeRow, press, write, of } = await show((filled) => {
    keep(filled, 2, { people: ADA_BEN });
    keep(filled, 3, { people: ADA_BEN });
  });
  const people = () => [...bridge.drills.values()].map(({ open }) => open.people);
  await changeRow(0);
  await press('Ada’s page');
  expect(screen.text).toContain('Back-ups and copies elsewhere are not touched');
  await write('Type “Ada” to go on', 'Ben');
  await press('Remove the person');
  expect([screen.text.includes('That is not the name.'), people()]).toEqual([true, [ADA_BEN, ADA_BEN]]);
  await write('Type “Ada” to go on', 'ada');
  await press('Remove the person');
  expect(people()).toEqual([
    { A: 'someone', B: 'Ben' },
    { A: 'someone', B: 'Ben' },
  ]);
  expect(of('h1')[0]?.textContent).toBe('Ada is removed');
  expect(of('[role="status"]')[0]?.textContent).toContain(
    '2 drills without the name now; 0 drills in which nobody was left taken away.The whole folder was searched for “Ada”: 0 files.',
  );
  await press('Back to the list');
  expect(screen.text).not.toContain('Ada');
});

test('files in which a removed name is left are named', async () => {
  const { of, changeRow, press, write } = await show((filled) => {
    filled.otherFiles = ['journals/damaged.antiphon.jsonl'];
    keep(filled, 2, { people: ADA_BEN });
  });
  await changeRow(0);
  await press('Ada’s page');
  await write('Type “Ada” to go on', 'Ada');
  await press('Remove the person');
  expect(of('[role="status"]')[0]?.textContent).toContain(
    'The whole folder was searched for “Ada”: 1 file, left as they are:journals/damaged.antiphon.jsonl',
  );
});

test('the folder can be searched for a name that nobody has here any more', async () => {
  const { of, press, write } = await show((filled) => void keep(filled, 2, { people: ADA_BEN }));
  await write('Name to search for', 'Zoe');
  await press('Search the folder');
  expect(of('details [role="status"]')[0]?.textContent).toBe(
    'The whole folder was searched for “Zoe”: 0 files.',
  );
  await write('Name to search for', 'BEN');
  await press('Search the folder');
  expect(of('details [role="status"]')[0]?.textContent).toContain('“BEN”: 1 file, left');
});
