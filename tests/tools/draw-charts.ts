import { readFileSync, writeFileSync } from 'node:fs';
import { drawCharts } from './chart-drawing.ts';

/** Puts the charts' drawings into DEVELOPERS.md, between its two marks. */
const page = new URL('../../../DEVELOPERS.md', import.meta.url);
const text = readFileSync(page, 'utf8');
const drawn = text.replace(
  /(<!-- charts -->\n)[\s\S]*?(<!-- end of charts -->)/,
  (_, start: string, end: string) => `${start}\n${drawCharts()}\n\n${end}`,
);
writeFileSync(page, drawn);
console.log(
  drawn === text ? 'The charts in DEVELOPERS.md were true.' : 'The charts in DEVELOPERS.md are drawn anew.',
);
