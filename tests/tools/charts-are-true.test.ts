import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { drawCharts } from './chart-drawing.ts';

it('DEVELOPERS.md shows the charts as they are (npm run charts draws them anew)', () => {
  const page = readFileSync(new URL('../../DEVELOPERS.md', import.meta.url), 'utf8');
  const drawn = page.split('<!-- charts -->\n')[1]?.split('<!-- end of charts -->')[0];
  expect(drawn?.trim()).toBe(drawCharts());
});
