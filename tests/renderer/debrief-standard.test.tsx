// @vitest-environment happy-dom
import { expect, test, vi } from 'vitest';
import { EXAMPLE_STANDARD } from '../../machines/standard/standard.ts';
import { SIGNED_AT, showDebrief } from '../support/debrief-screen.tsx';
import { JournalBuilder } from '../support/journal-builder.ts';
import type { Screen } from '../support/screen.tsx';

/** Twelve unled cycles on a checked manikin, chest rise seen by the instructor, depth by an observer only. */
function drill(over: ConstructorParameters<typeof JournalBuilder>[0] = {}): JournalBuilder {
  const rigCheck = {
    outcome: 'passed',
    at: '2026-03-02T08:00:00.000Z',
    techniques: ['two-thumb' as const],
    stances: ['foot-end' as const],
  } as const;
  const journal = new JournalBuilder({
    rigCheck: { ...rigCheck, techniques: ['two-thumb'], stances: ['foot-end'] },
    ...over,
  });
  journal.call(0, 'begin').ideal(1000, 13);
  journal.line({ kind: 'tick', at: 9000, item: 'chest-rise', met: true, by: 'instructor' });
  journal.line({ kind: 'tick', at: 9100, item: 'depth', met: true, by: 'observer' });
  return journal.call(28_000, 'finish').line({ kind: 'close', at: 28_000 });
}

async function unfolded(screen: Screen): Promise<HTMLElement | null> {
  const part = screen.element.querySelector<HTMLDetailsElement>('#standard');
  await screen.during(() => {
    if (part !== null) part.open = true;
    part?.dispatchEvent(new Event('toggle'));
  });
  return part;
}

async function opened(journal: JournalBuilder, diskSays?: string) {
  const shown = await showDebrief(journal, diskSays);
  await shown.screen.click(shown.screen.button(/^Show the figures/));
  const part = await unfolded(shown.screen);
  if (part === null) throw new Error('no standard is shown');
  return { ...shown, part };
}

const rowsOf = (part: HTMLElement, name: string) =>
  [
    ...(part.querySelector(`[aria-label="The standard, and ${name}"]`)?.querySelectorAll('tbody tr') ?? []),
  ].map((row) => [...row.children].map((cell) => cell.textContent));
const signButton = (screen: Screen, name: string, words: string) => {
  const group = screen.element.querySelector(`[aria-label="Signed by you for ${name}:"]`);
  const button = [...(group?.querySelectorAll('button') ?? [])].find((one) => one.textContent === words);
  if (button === undefined) throw new Error(`nothing to sign ${words} with`);
  return button;
};

test('each learner is held against the standard, and what is lacking is said', async () => {
  const { part } = await opened(drill());
  const ada = rowsOf(part, 'Ada');
  expect(ada).toContainEqual(['Unled, compressing', 'at least 0:50', '0:24', 'not yet, 0:26 lacking']);
  expect(ada).toContainEqual([
    'Depth about one third, compressing',
    '',
    '',
    'not assessed, only an observer ticked it',
  ]);
  expect(rowsOf(part, 'Ben')).toContainEqual(['Chest rises, ventilating', '', '', 'met']);
  expect(part.textContent).toContain('Ada: Example: not yet');
  expect(part.textContent).not.toMatch(/\b(pass|passed|fail|failed)\b/i);
});

test('the instructor signs by name, for one learner, with a decision of their own', async () => {
  const { screen, part } = await opened(drill());
  expect(signButton(screen, 'Ada', 'not yet met').disabled).toBe(true);
  await screen.type('Instructor’s name', 'Cleo');
  await screen.click(signButton(screen, 'Ada', 'met'));
  await screen.settle();
  expect(part.textContent).toContain(
    `Signed for Ada by Cleo, ${SIGNED_AT.slice(0, 10)} 10:04 UTC: the standard “Example” is met.`,
  );
  expect(part.textContent).not.toContain('Signed for Ben');
});

test('a signature that is not on the disk is said not to be', async () => {
  const { screen, part } = await opened(drill(), 'the disk is full');
  await screen.type('Instructor’s name', 'Cleo');
  await screen.click(signButton(screen, 'Ben', 'met'));
  await screen.settle();
  expect(screen.text).toContain('Not written into the journal: the disk is full');
  expect(part.textContent).not.toContain('Signed for Ben');
});

test('a rhythm drill is held against nothing, and cannot be signed', async () => {
  const { part } = await opened(drill({ rig: 'rhythm' }));
  expect(part.textContent).toContain('A drill on a rhythm rig: nothing of it counts for a standard.');
  expect(part.querySelectorAll('table, button')).toHaveLength(0);
});

test('the course’s own standard stands before the example', async () => {
  const own = { ...EXAMPLE_STANDARD, name: 'Autumn course', requires: { swap: true as const } };
  const shown = await showDebrief(drill());
  shown.bridge.standards = [{ fileName: 'autumn.antiphon-standard.json', standard: own, problem: null }];
  await shown.screen.click(shown.screen.button(/^Show the figures/));
  const part = await unfolded(shown.screen);
  expect(part?.textContent).toContain('Ada: Autumn course: not yet');
  expect(part === null ? [] : rowsOf(part, 'Ada')).toHaveLength(1);
});

test('a standard that is taken anew takes the place of the one of its name, and another stands beside it', async () => {
  const { screen, bridge, part } = await opened(drill());
  const take = async (name: string) => {
    const standard = { ...EXAMPLE_STANDARD, name, requires: { swap: true as const } };
    const input = part.querySelector<HTMLInputElement>('input[type=file]');
    if (input === null) throw new Error('no file can be taken in');
    const file = new File([JSON.stringify(standard)], 'course.antiphon-standard.json');
    Object.defineProperty(input, 'files', { value: [file], configurable: true });
    await screen.during(() => input.dispatchEvent(new Event('change', { bubbles: true })));
    await vi.waitFor(() => expect(bridge.standards.some((one) => one.standard?.name === name)).toBe(true));
    await screen.settle();
  };
  for (const name of ['Autumn course', 'Spring course', 'Autumn course']) await take(name);
  expect(bridge.standards.map(({ standard }) => standard?.name)).toEqual(['Spring course', 'Autumn course']);
});
