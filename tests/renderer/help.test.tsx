// @vitest-environment happy-dom
import { expect, onTestFinished, test } from 'vitest';
import { ALL_CAUTIONS, HELP, HELP_PAGES } from '../../machines/words/help-words.ts';
import { isWindowKey } from '../../renderer/adapters/key-uses.ts';
import { Cautions } from '../../renderer/components/cautions.tsx';
import { WithHelp } from '../../renderer/screens/help.tsx';
import { Screen } from '../support/screen.tsx';

function page(options: { isBeside?: boolean; hasWalk?: boolean } = {}) {
  const walk = (onLeave: () => void) => (
    <button type="button" onClick={onLeave}>
      End of the walk
    </button>
  );
  return (
    <WithHelp
      page={options.isBeside === true ? 'floor' : 'setUp'}
      isBeside={options.isBeside === true}
      {...(options.hasWalk === true ? { walk } : {})}
    >
      <label>
        <input type="text" />
        Name
      </label>
      <Cautions rig="rhythm" />
    </WithHelp>
  );
}

test('its key is none that a learner’s switch or a call can be', () => {
  expect(isWindowKey('F9')).toBe(true);
});

test('every screen has its page, of a few points', () => {
  for (const one of HELP_PAGES) expect(HELP[one].points.length).toBeGreaterThan(1);
  expect(HELP_PAGES.map((one) => HELP[one].title)).toEqual([
    'Set-up',
    'Floor, the instructor’s view',
    'Floor, the learners’ view',
    'Debrief',
    'Ledger',
    'Class',
  ]);
});

test('F9 opens it over the screen, with every caution; Escape closes it, and the focus is back where it was', async () => {
  const screen = await Screen.show(page());
  screen.field('Name').focus();
  await screen.press('F9');
  expect(screen.element.querySelector('dialog')?.open).toBe(true);
  for (const caution of ALL_CAUTIONS) expect(screen.text).toContain(caution);
  screen.button(/^Close/).focus();
  await screen.press('Escape');
  expect(screen.element.querySelector('dialog')).toBe(null);
  expect(document.activeElement).toBe(screen.field('Name'));
});

test('over a screen no key acts behind it, though a key that was held comes up', async () => {
  const screen = await Screen.show(page());
  const heard: string[] = [];
  const hear = ({ type, code }: KeyboardEvent) => heard.push(`${type} ${code}`);
  const kinds = ['keydown', 'keyup'] as const;
  for (const kind of kinds) window.addEventListener(kind, hear, { capture: true });
  await screen.press('F9');
  await screen.press('Digit1');
  await screen.press('Escape');
  await screen.press('Digit2');
  for (const kind of kinds) window.removeEventListener(kind, hear, { capture: true });
  expect(heard).toEqual(['keyup F9', 'keyup Digit1', 'keyup Escape', 'keydown Digit2', 'keyup Digit2']);
});

test('the button beside the cautions opens it too, and has the focus again afterwards', async () => {
  const screen = await Screen.show(page());
  const button = screen.button(/^Cautions and help/);
  button.focus();
  await screen.click(button);
  expect(screen.text).toContain(HELP.setUp.points[0]);
  screen.button(/^Close/).focus();
  await screen.click(screen.button(/^Close/));
  expect(document.activeElement).toBe(button);
});

test('beside a drill it takes no focus and no key but its own and Escape', async () => {
  const screen = await Screen.show(page({ isBeside: true }));
  const heard: string[] = [];
  const hear = (event: KeyboardEvent) => heard.push(event.code);
  window.addEventListener('keydown', hear);
  screen.field('Name').focus();
  await screen.press('F9');
  expect(screen.element.querySelector('dialog')).toBe(null);
  expect(screen.text).toContain('The drill goes on');
  expect(document.activeElement).toBe(screen.field('Name'));
  for (const code of ['Digit2', 'KeyX', 'Enter', 'Escape', 'Escape']) await screen.press(code);
  window.removeEventListener('keydown', hear);
  // The first Escape was for help; the second is the Floor's again.
  expect(heard).toEqual(['Digit2', 'KeyX', 'Enter', 'Escape']);
  expect(screen.text).not.toContain('The drill goes on');
});

test('the walk through takes the screen’s place, which is as it was when it is left', async () => {
  const screen = await Screen.show(page({ hasWalk: true }));
  await screen.type('Name', 'Mirela');
  screen.field('Name').focus();
  await screen.press('F9');
  await screen.click(screen.button('Two-minute walk through'));
  expect(screen.field('Name').closest('[hidden]')).not.toBe(null);
  screen.button('End of the walk').focus();
  await screen.click(screen.button('End of the walk'));
  expect(screen.field('Name').value).toBe('Mirela');
  expect(screen.field('Name').closest('[hidden]')).toBe(null);
  expect(document.activeElement).toBe(screen.field('Name'));
});

test('no key acts on the screen behind the walk through, and Escape leaves it', async () => {
  const screen = await Screen.show(page({ hasWalk: true }));
  const heard: string[] = [];
  const hear = ({ code }: KeyboardEvent) => heard.push(code);
  window.addEventListener('keydown', hear);
  onTestFinished(() => window.removeEventListener('keydown', hear));
  await screen.press('F9');
  await screen.click(screen.button('Two-minute walk through'));
  await screen.press('Digit1');
  await screen.press('Digit9');
  expect(heard).toEqual([]);
  await screen.press('Escape');
  expect(screen.field('Name').closest('[hidden]')).toBe(null);
});
