// @vitest-environment happy-dom
import { act } from 'react';
import { expect, test } from 'vitest';
import { withoutPerson } from '../../machines/class/class-changes.ts';
import { type ClassFile, newClass } from '../../machines/class/class-file.ts';
import { ClassShelf } from '../../renderer/app/class-shelf.ts';
import { ClassPage, type SavePaper } from '../../renderer/screens/class-page.tsx';
import { FakeBridge } from '../support/fake-bridge.ts';
import { JournalBuilder, openLine } from '../support/journal-builder.ts';
import { Screen } from '../support/screen.tsx';

const FOUR: ClassFile = newClass(['Ada', 'Ben', 'Cleo', 'Dov'], 1);

async function show(classFile: ClassFile | null = FOUR, bridge = new FakeBridge(), onSavePaper?: SavePaper) {
  bridge.classFile = classFile;
  const taken: string[] = [];
  const screen = await Screen.show(
    <ClassPage
      shelf={new ClassShelf(bridge)}
      {...(onSavePaper === undefined ? {} : { onSavePaper })}
      onTake={({ chest, airway }) => taken.push(`${chest} and ${airway}`)}
      onBack={() => taken.push('back')}
    />,
  );
  await screen.settle();
  const write = async (element: Element | null | undefined, text: string) => {
    if (element === null || element === undefined) throw new Error('there is no such field');
    await act(async () => {
      Object.getOwnPropertyDescriptor(Object.getPrototypeOf(element), 'value')?.set?.call(element, text);
      element.dispatchEvent(new Event('input', { bubbles: true }));
    });
  };
  const number = (label: string) =>
    [...screen.element.querySelectorAll('label')]
      .find((one) => one.textContent === label)
      ?.querySelector('input');
  return {
    bridge,
    screen,
    taken,
    addNames: async (text: string) => {
      await write(screen.element.querySelector('textarea'), text);
      await screen.click(screen.button('Add these names'));
      await screen.settle();
    },
    setNumber: (label: string, text: string) => write(number(label), text),
    labelled: async (label: string) => {
      const found = screen.element.querySelector<HTMLElement>(`[aria-label="${label}"]`);
      if (found === null) throw new Error(`nothing is labelled ${label}`);
      await screen.click(found);
      await screen.settle();
    },
    click: async (words: string) => {
      await screen.click(screen.button(words));
      await screen.settle();
    },
    next: () =>
      [...screen.element.querySelectorAll('.class-next h2, .next-groups li dl, .next-rest')].map(
        ({ textContent }) => textContent,
      ),
    said: () => screen.element.querySelector('header [role=status]')?.textContent,
    alerts: () => [...screen.element.querySelectorAll('[role=alert]')].map((one) => one.textContent).join(''),
    unled: () => screen.element.querySelector('[aria-labelledby=class-unled] [role=status]')?.textContent,
  };
}

test('names that are pasted get turns at once, and all of it is saved', async () => {
  const { bridge, screen, addNames, setNumber, next } = await show(null);
  expect(screen.text).toContain('Nobody is here yet.');
  expect(document.activeElement).toBe(screen.element.querySelector('textarea'));
  await setNumber('Stations', '2');
  await setNumber('Minutes a turn', '10');
  await addNames('Ada\nBen\nCleo, Dov\n\nEve');
  expect(next()).toEqual(['Next: Turn 1 10 minutes', 'chestAdaairwayCleoobserverEve', 'chestBenairwayDov']);
  expect(bridge.classFile).toEqual({
    ...newClass(['Ada', 'Ben', 'Cleo', 'Dov', 'Eve'], 2),
    turnMinutes: 10,
  });
  // What was made is what the eye and the next key go to.
  expect(document.activeElement?.id).toBe('class-next');
});

test('what was done to the names is said', async () => {
  const { said, addNames } = await show(newClass(['Ada'], 1));
  await addNames('Ada\nBen');
  expect(said()).toBe(
    'There is a Ada already: this one is “Ada (2)”. Write a surname, or take one out if it is the same person.',
  );
});

test('a turn that was held gives way to the next, and can be taken back', async () => {
  const { bridge, screen, click, next, said } = await show();
  expect(document.activeElement).toBe(screen.button('This turn was held'));
  const first = next();
  await click('This turn was held');
  expect(said()).toBe('Turn 1 is held.');
  expect(next()[0]).toBe('Next: Turn 2 8 minutes');
  expect(bridge.classFile?.done).toHaveLength(1);
  expect(screen.text).toContain('1 turn was held');
  await click('Take back turn 1');
  expect(next()).toEqual(first);
  expect(bridge.classFile?.done).toEqual([]);
  expect(document.activeElement).toBe(screen.button('This turn was held'));
});

test('when everyone has had all, it says so and goes on with an extra turn', async () => {
  const { screen, click } = await show(newClass(['Ada', 'Ben', 'Cleo'], 1));
  for (let turn = 0; turn < 3; turn += 1) {
    expect(screen.text).not.toContain('This is an extra turn.');
    await click('This turn was held');
  }
  expect(screen.text).toContain(
    'Everyone here has had both roles and their partners. This is an extra turn.',
  );
  expect(screen.text).toContain('Next: Turn 4');
});

test('who leaves is out of the turns to come, and in them again when here again', async () => {
  const { bridge, click, labelled, next, said } = await show();
  await click('This turn was held');
  const before = next();
  const [held] = bridge.classFile?.done[0]?.groups ?? [];
  const name = held?.chest ?? '';
  await labelled(`Left: ${name}`);
  expect(next().join()).not.toContain(name);
  await labelled(`Here again: ${name}`);
  expect(next()).toEqual(before);
  // The fourth had no place in the first turn.
  await labelled('Left: Dov');
  expect(said()).toBe('Dov had no turn yet, and is taken out of the list.');
  expect(bridge.classFile?.people.map((one) => one.name)).toEqual(['Ada', 'Ben', 'Cleo']);
  expect(document.activeElement?.id).toBe('class-people');
});

test('who was removed stands in the turns that were held, and cannot be brought back', async () => {
  const held = { groups: [{ station: 1, chest: 'Ada', airway: 'Ben', observer: 'Cleo' }] };
  const { screen } = await show(withoutPerson({ ...FOUR, done: [held] }, 'Ada'));
  expect(screen.element.textContent).toContain('someone');
  const again = [...screen.element.querySelectorAll('.class-people button')].map((one) =>
    one.getAttribute('aria-label'),
  );
  expect(again).toEqual(['Left: Ben', 'Left: Cleo', 'Left: Dov']);
});

test('two names of a group are taken to Set-up', async () => {
  const { taken, labelled } = await show();
  await labelled('Take these two names: Station 1: chest Ada, airway Ben, observer Cleo');
  expect(taken).toEqual(['Ada and Ben']);
});

test('a number that cannot be is said, and changes nothing', async () => {
  const { bridge, alerts, setNumber } = await show();
  await setNumber('Stations', '13');
  expect(alerts()).toBe('Stations: a whole number, 1 to 12. It stays as it was until then.');
  expect(bridge.classFile?.stations).toBe(1);
  await setNumber('Stations', '2');
  expect(alerts()).toBe('');
  expect(bridge.classFile?.stations).toBe(2);
});

test('a full disk stops no class: it is said, and the next change saves all of it', async () => {
  const { bridge, alerts, click, next } = await show();
  bridge.failure = { ok: false, code: 'disk', message: 'the class cannot be saved (ENOSPC)' };
  await click('This turn was held');
  expect(alerts()).toBe(
    'Not on the disk: the class cannot be saved (ENOSPC). The class goes on here, and every change tries again.',
  );
  expect(next()[0]).toBe('Next: Turn 2 8 minutes');
  bridge.failure = null;
  await click('This turn was held');
  expect(alerts()).toBe('');
  expect(bridge.classFile?.done).toHaveLength(2);
});

test('a class of a newer release is left alone, and it is said', async () => {
  const bridge = new FakeBridge();
  const message = 'the class was saved by a newer release and is left untouched';
  const load = bridge.loadClass.bind(bridge);
  bridge.loadClass = async () => ({ ok: false, code: 'newer-version', message });
  const { screen, alerts, click, next } = await show(FOUR, bridge);
  expect(alerts()).toBe(`No class can be shown: ${message}.`);
  expect(screen.element.querySelector('textarea')).toBe(null);
  bridge.loadClass = load;
  await click('Try again');
  expect(next()[0]).toBe('Next: Turn 1 8 minutes');
});

test('a new class is asked about first; stations and minutes stay', async () => {
  const { bridge, screen, click } = await show({ ...FOUR, stations: 2, turnMinutes: 6 });
  await click('New class');
  expect(document.activeElement).toBe(screen.button('Keep them'));
  await click('Keep them');
  expect(document.activeElement).toBe(screen.button('New class'));
  expect(bridge.classFile?.people).toHaveLength(4);
  await click('New class');
  await click('Take them off');
  expect(bridge.classFile).toEqual({ ...newClass([], 2), turnMinutes: 6 });
  expect(document.activeElement).toBe(screen.element.querySelector('textarea'));
});

test('changes that come faster than the disk are saved one at a time, and the latest is what stays', async () => {
  const bridge = new FakeBridge();
  const waiting: (() => void)[] = [];
  const turnsSent: number[] = [];
  bridge.saveClass = async (wanted) => {
    turnsSent.push(wanted.done.length);
    await new Promise<void>((resolve) => waiting.push(resolve));
    bridge.classFile = wanted;
    return { ok: true, value: null };
  };
  const { screen, click, next } = await show(FOUR, bridge);
  for (let turn = 0; turn < 3; turn += 1) await click('This turn was held');
  expect([turnsSent, next()[0]]).toEqual([[1], 'Next: Turn 4 8 minutes']);
  await screen.during(() => waiting.shift()?.());
  await screen.during(() => waiting.shift()?.());
  expect([turnsSent, bridge.classFile?.done.length]).toEqual([[1, 3], 3]);
});

test('in the desktop shell the list is saved as a PDF, and a disk that refuses is said', async () => {
  const { alerts, click } = await show(FOUR, new FakeBridge(), async (fileName) => ({
    ok: false,
    code: 'disk',
    message: `${fileName} cannot be written (EROFS)`,
  }));
  await click('Save as PDF');
  expect(alerts()).toBe('Not saved as PDF: class.pdf cannot be written (EROFS)');
});

/** A drill on this station: ten cycles with the count as it is said, A compressing. */
async function drillOf(
  bridge: FakeBridge,
  pair: [string, string],
  over: Parameters<typeof openLine>[0] = {},
): Promise<void> {
  const opened = { openedAt: new Date().toISOString(), people: { A: pair[0], B: pair[1] }, ...over };
  const { open, lines } = new JournalBuilder(opened).call(0, 'begin').ideal(1000, 11).call(24_000, 'finish');
  const id = `0000000${bridge.drills.size + 1}-0000-4000-8000-00000000000f`;
  bridge.drills.set(id, { open: openLine({ ...open, id }), fileName: `${id}.jsonl`, lines: [...lines] });
}

test('who has not yet compressed unled today is known from this station’s drills of today', async () => {
  const bridge = new FakeBridge();
  await drillOf(bridge, ['ADA ', 'Ben']);
  await drillOf(bridge, ['Ben', 'Cleo'], { guidance: 'led' });
  await drillOf(bridge, ['Cleo', 'Ben'], { openedAt: '2026-03-02T09:30:00.000Z' });
  await drillOf(bridge, ['Dov', 'Ben'], { rig: 'rhythm' });
  const { unled, screen } = await show(FOUR, bridge);
  expect(unled()).toBe('Ben, Cleo, Dov (0:20 on a rhythm rig).');
  expect(screen.text).toContain('what was done at another station is not known');
});

test('only drills with these names are read, one by one, and one that cannot be is said', async () => {
  const bridge = new FakeBridge();
  await drillOf(bridge, ['Ada', 'Ben']);
  await drillOf(bridge, ['Zoe', 'Yan']);
  await drillOf(bridge, ['Ben', 'Ada']);
  const read = bridge.readDrill.bind(bridge);
  const asked: string[] = [];
  const waiting: (() => void)[] = [];
  bridge.readDrill = async (drillId) => {
    asked.push(drillId.slice(0, 8));
    await new Promise<void>((resolve) => waiting.push(resolve));
    return asked.length === 2
      ? { ok: false, code: 'disk', message: 'the drill cannot be read (EIO)' }
      : read(drillId);
  };
  const { unled, screen } = await show(FOUR, bridge);
  expect([asked, unled()]).toEqual([['00000001'], 'Read so far: 0 of today’s 2 drills with these names.']);
  await screen.during(() => waiting.shift()?.());
  expect([asked, unled()]).toEqual([
    ['00000001', '00000003'],
    'Read so far: 1 of today’s 2 drills with these names.',
  ]);
  await screen.during(() => waiting.shift()?.());
  expect(unled()).toBe('Ben, Cleo, Dov.1 drill of today cannot be read, and is not in this.');
});

test('with everybody done it says so', async () => {
  const bridge = new FakeBridge();
  await drillOf(bridge, ['Ada', 'Ben']);
  await drillOf(bridge, ['Ben', 'Ada']);
  const { unled } = await show(newClass(['Ada', 'Ben'], 1), bridge);
  expect(unled()).toBe('Everyone here has compressed unled today.');
});
