// @vitest-environment happy-dom
import { expect, test } from 'vitest';
import { showDebrief } from '../support/debrief-screen.tsx';
import { JournalBuilder } from '../support/journal-builder.ts';

function tenCycles(over: ConstructorParameters<typeof JournalBuilder>[0] = {}): JournalBuilder {
  const journal = new JournalBuilder(over).call(0, 'begin').ideal(1000, 11);
  return journal.call(24_000, 'finish').line({ kind: 'close', at: 24_000 });
}

test('they are asked first; one key then shows the figures', async () => {
  const { screen } = await showDebrief(tenCycles());
  expect(screen.text).toContain('Ask them first: what went well, what would you change?');
  expect(screen.text).not.toContain('Timing only');
  expect(document.activeElement).toBe(screen.button(/^Show the figures/));
  await screen.click(screen.button(/^Show the figures/));
  expect(screen.element.querySelector('.headline')?.textContent).toBe(
    'Timing only: 10 of your 10 cycles were three compressions and a breath, each in its place, with the count off. Within them that is 90 compressions and 30 breaths a minute, where 90 and 30 are wanted.',
  );
});

test('an Enter that is still held from the Floor does not show them', async () => {
  const { screen } = await showDebrief(tenCycles());
  const event = new KeyboardEvent('keydown', {
    code: 'Enter',
    repeat: true,
    bubbles: true,
    cancelable: true,
  });
  screen.button(/^Show the figures/).dispatchEvent(event);
  expect(event.defaultPrevented).toBe(true);
});

test('every figure has its ideal beside it, and says whose it is', async () => {
  const { screen } = await showDebrief(tenCycles());
  await screen.click(screen.button(/^Show the figures/));
  const rows = [...screen.element.querySelectorAll('.debrief-details tr')].map((row) =>
    [...row.children].map((cell) => cell.textContent),
  );
  expect(rows).toContainEqual(['Compressions a minute', '90.0', '90', 'guideline']);
  expect(rows).toContainEqual(['Coordinated', '10 of 10 cycles', 'all', 'tool default']);
});

test('the figures have their ±, and say whether an offset between the switches was taken out', async () => {
  const switchOffset = { medianMs: 8, spreadMs: 1, errorMs: 2, n: 10, applied: true };
  const { screen } = await showDebrief(tenCycles({ switchOffset }));
  await screen.click(screen.button(/^Show the figures/));
  expect(screen.text).toContain('8.0 ± 2.0 ms after the chest switch');
  expect(screen.text).toContain('this was taken out of the airway switch’s times');
  const rows = [...screen.element.querySelectorAll('.debrief-details tr')].map((row) => row.textContent);
  // Ideal cycles, switches of 1 ms: u = √(2/12 + (2/1.96)²), 1.96 of it is 2.2.
  expect(rows).toContain(
    'Third compression to breath492 ± 2 ms (sd 0 ms, n 10)500 msfollows from the guideline’s rates',
  );
});

test('what no switch can know is written where one would look for it', async () => {
  const { screen } = await showDebrief(tenCycles());
  await screen.click(screen.button(/^Show the figures/));
  expect(screen.text).toContain('mask seal: not measured');
  expect(screen.text).toContain('full release: not measured');
});

test('dead time shows in the rates of the whole attempt', async () => {
  // Eight complete cycles of 2 s: 24 compressions in 16 s are 90 a minute. The two bouts last from 1.0 to 16.0 s
  // (first new) and from 16.0 to 25.9 s (last release): 30 compressions in 24.9 s are 72.3 a minute.
  const journal = new JournalBuilder().call(0, 'begin').ideal(1000, 5).call(10_600, 'swap').ideal(16_000, 5);
  const { screen } = await showDebrief(journal.call(26_000, 'finish').line({ kind: 'close', at: 26_000 }));
  await screen.click(screen.button(/^Show the figures/));
  const row = [...screen.element.querySelectorAll('tr')].find((one) =>
    one.textContent?.startsWith('Compressions a minute'),
  );
  expect([...(row?.children ?? [])].map((cell) => cell.textContent)).toEqual([
    'Compressions a minute',
    '90.0',
    '72.3',
    '90',
  ]);
});

test('a drill with and without the count says whether the rhythm survives silence', async () => {
  const journal = new JournalBuilder({ guidance: 'weaned' }).call(0, 'begin').line({
    kind: 'count',
    at: 500,
    what: 'given',
    by: 'sound',
    fromMs: 1000,
    beat: 'one',
    cycleMs: 2000,
    outputLatencyMs: 10,
    errorMs: 0.1,
  });
  journal.line({ kind: 'count', at: 10_000, what: 'stopped', lastMs: 10_500 });
  journal.ideal(1000, 11).call(24_000, 'finish').line({ kind: 'close', at: 24_000 });
  const { screen } = await showDebrief(journal);
  await screen.click(screen.button(/^Show the figures/));
  expect(screen.text).toContain('Does the rhythm survive silence?');
  const rows = [...screen.element.querySelectorAll('tr')].map((row) =>
    [...row.children].map((cell) => cell.textContent),
  );
  expect(rows).toContainEqual(['Coordinated', '5 of 5 cycles', '5 of 5 cycles']);
  expect(rows).toContainEqual([
    'Compression to its heard beat',
    '0 ± 1 ms (sd 0 ms, n 15)',
    '0 ms, but for a loudspeaker’s own delay',
    'tool default',
  ]);
  const { screen: unled } = await showDebrief(tenCycles());
  await unled.click(unled.button(/^Show the figures/));
  expect(unled.text).not.toContain('Does the rhythm survive silence?');
});

test('a rhythm drill says so on its page, two techniques say that timing cannot compare them', async () => {
  const journal = new JournalBuilder({ rig: 'rhythm' })
    .call(0, 'begin')
    .ideal(1000, 5)
    .call(10_500, { call: 'technique', technique: 'two-finger' })
    .ideal(13_000, 5)
    .call(24_000, 'finish')
    .line({ kind: 'close', at: 24_000 });
  const { screen } = await showDebrief(journal);
  expect(screen.text).toContain('Rhythm rig:');
  await screen.click(screen.button(/^Show the figures/));
  expect(screen.text).toContain('timing alone cannot compare the techniques');
});

test('the journal’s file is named, and one button goes back', async () => {
  const { screen, left } = await showDebrief(tenCycles());
  await screen.click(screen.button(/^Show the figures/));
  expect(screen.text).toContain('drill.antiphon.jsonl');
  await screen.click(screen.button('Done: back to Set-up'));
  expect(left).toEqual(['left']);
});

test('a drill with no cycle is told plainly', async () => {
  const journal = new JournalBuilder().call(0, 'begin').call(900, 'finish').line({ kind: 'close', at: 900 });
  const { screen } = await showDebrief(journal);
  await screen.click(screen.button(/^Show the figures/));
  expect(screen.text).toContain('Timing only: no compression was registered after begin');
  expect(screen.text).toContain('No complete cycle to draw.');
});

test('the rig check is said from the start, and why a drill is rhythm only', async () => {
  const { screen } = await showDebrief(tenCycles({ rig: 'rhythm', rigCheck: { outcome: 'not-done' } }));
  expect(screen.text).toContain('Rhythm only: the rig was not checked that day.');
});

test('two stretches are compared in words for the pair, in figures for the instructor, with the method of choice', async () => {
  const journal = new JournalBuilder().call(0, 'begin').ideal(1000, 12);
  journal.call(24_600, { call: 'technique', technique: 'two-finger' }).ideal(27_000, 12);
  const { screen } = await showDebrief(journal.call(51_500, 'finish').line({ kind: 'close', at: 51_500 }));
  await screen.click(screen.button(/^Show the figures/));
  const section = screen.element.querySelector('#comparisons');
  expect(section?.querySelector('p')?.textContent).toBe(
    'These two stretches do not differ in coordinated cycles (two-thumb 11 of 11 cycles, two-finger 11 of 11 cycles). It says nothing of what they were for: that takes three stretches or more a side, by turns.',
  );
  expect(section?.querySelector('.caution')?.textContent).toContain('Two-thumb is the method of choice');
  const rows = [...(section?.querySelectorAll('details tbody tr') ?? [])].map((row) =>
    [...row.children].map((cell) => cell.textContent),
  );
  expect(rows[1]).toEqual([
    'Cycle jitter',
    '0 ms',
    '0 ms',
    '0 ms',
    '50 ms',
    'these two stretches differ by this; nothing more can be said',
  ]);
});

test('a drill in which nothing changed has no comparisons', async () => {
  const { screen } = await showDebrief(tenCycles());
  await screen.click(screen.button(/^Show the figures/));
  expect(screen.element.querySelector('#comparisons')).toBeNull();
});
