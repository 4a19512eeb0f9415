import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { openBrowserShell } from '../../electron/browser-shell.ts';
import { PLACES_FILE, type Place, placeOn, WindowPlaces } from '../../electron/window-places.ts';
import { makeDesktop } from '../support/fake-desktop.ts';
import { makeTempFolder } from '../support/folder-for-test.ts';

const LEFT = { x: 0, y: 0, width: 1920, height: 1040 };
const RIGHT = { x: 1920, y: 0, width: 1280, height: 984 };
const placed = (x: number, y: number, width = 900, height = 700): Place => ({
  x,
  y,
  width,
  height,
  isMaximized: false,
});

test.each<[string, Place, Place | null]>([
  ['on the first display', placed(100, 50), placed(100, 50)],
  ['on the second', placed(2000, 50), placed(2000, 50)],
  ['across both', placed(1500, 50), placed(1500, 50)],
  ['half out on the left', placed(-700, 50), placed(-700, 50)],
  ['out on the left', placed(-890, 50), null],
  ['out on the right', placed(3150, 50), null],
  ['below', placed(100, 1030), null],
  ['with its title bar above', placed(100, -20), null],
  ['on a display that was taken away', placed(-1500, 100), null],
  ['larger than the display', placed(0, 0, 4000, 3000), placed(0, 0, 1920, 1040)],
])('a window that was %s', (_where, place, expected) => {
  expect(placeOn(place, [LEFT, RIGHT])).toEqual(expected);
});

test('without a display there is no place', () => {
  expect(placeOn(placed(0, 0), [])).toBe(null);
});

test('each window comes back to where it was closed, maximised if it was', async () => {
  const path = join(await makeTempFolder(), 'new', PLACES_FILE);
  const first = await WindowPlaces.open(path);
  const before = makeDesktop(first);
  await before.windows.open('instructor');
  await before.windows.open('learners');
  const [instructors, learners] = before.made;
  expect(instructors?.options).not.toHaveProperty('x');
  if (learners !== undefined) learners.isMaximizedNow = true;
  if (learners !== undefined) learners.bounds = { x: 300, y: 40, width: 800, height: 600 };
  instructors?.close();
  learners?.close();
  await first.settle();
  expect(JSON.parse(await readFile(path, 'utf8'))).toEqual({
    version: 1,
    places: {
      instructor: { x: 10, y: 20, width: 900, height: 700, isMaximized: false },
      learners: { x: 300, y: 40, width: 800, height: 600, isMaximized: true },
    },
  });

  const after = makeDesktop(await WindowPlaces.open(path));
  await after.windows.open('instructor');
  await after.windows.open('learners');
  expect(
    after.made.map(({ options, done }) => [options.x, options.y, options.width, options.height, done[0]]),
  ).toEqual([
    [10, 20, 900, 700, 'load antiphon-app://station/'],
    [300, 40, 800, 600, 'maximize'],
  ]);
});

test('a place that is on no display any more is not used', async () => {
  const path = join(await makeTempFolder(), PLACES_FILE);
  const there = { instructor: placed(2500, 50) };
  await writeFile(path, JSON.stringify({ version: 1, places: there }));
  const { windows, made } = makeDesktop(await WindowPlaces.open(path), { workAreas: [LEFT] });
  await windows.open('instructor');
  expect([made[0]?.options.x, made[0]?.options.width]).toEqual([undefined, 1280]);
});

test.each([
  ['nothing', ''],
  ['no JSON', '{"version":1,'],
  ['another version', '{"version":2,"places":{}}'],
  ['a list', '[]'],
  [
    'a place that is text',
    '{"version":1,"places":{"instructor":{"x":"0","y":0,"width":9,"height":9,"isMaximized":false}}}',
  ],
  [
    'a place without end',
    '{"version":1,"places":{"instructor":{"x":1e99,"y":0,"width":9,"height":9,"isMaximized":false}}}',
  ],
  [
    'a size of nothing',
    '{"version":1,"places":{"instructor":{"x":0,"y":0,"width":0,"height":9,"isMaximized":false}}}',
  ],
  [
    'a third window',
    '{"version":1,"places":{"observer":{"x":0,"y":0,"width":9,"height":9,"isMaximized":false}}}',
  ],
])('a file that holds %s is as good as none', async (_what, text) => {
  const path = join(await makeTempFolder(), PLACES_FILE);
  await writeFile(path, text);
  expect((await WindowPlaces.open(path)).of('instructor')).toBe(null);
});

test('a folder that cannot be written to is no trouble', async () => {
  const blocked = join(await makeTempFolder(), 'file');
  await writeFile(blocked, '');
  const places = await WindowPlaces.open(join(blocked, PLACES_FILE));
  places.note('instructor', placed(1, 2));
  await places.settle();
  expect(places.of('instructor')).toEqual(placed(1, 2));
});

test('a browser’s leftovers are cleared away, the windows’ places are not', async () => {
  const dataFolder = await makeTempFolder();
  await writeFile(join(dataFolder, PLACES_FILE), 'kept');
  const shell = openBrowserShell({
    command: '/no/such/browser',
    address: 'http://x/',
    isRoot: false,
    dataFolder,
  });
  await expect(shell).rejects.toThrow('ENOENT');
  expect(await readFile(join(dataFolder, PLACES_FILE), 'utf8')).toBe('kept');
});
