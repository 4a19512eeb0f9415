import { mkdir, readdir, readFile, stat, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';

/** Writes the licences of everything the packed app holds of others into one text: `node make-licences.mjs [FILE]`. */

const PROJECT = join(import.meta.dirname, '../..');
const TARGET = process.argv[2] ?? join(PROJECT, 'dist/THIRD-PARTY-LICENCES.txt');
/** What goes with our MIT licence without more than its own text (our choice): another one stops the build. */
const ACCEPTED = ['MIT', 'ISC', 'BSD-2-Clause', 'BSD-3-Clause', '0BSD', 'Apache-2.0'];
const HEAD = `Antiphon is under the MIT licence (see LICENSE). It contains the work of others, under their licences.
Electron's own licence and those of Chromium are in LICENSE.electron.txt and LICENSES.chromium.html beside the program.
`;

const packages = await readPackages();
await mkdir(dirname(TARGET), { recursive: true });
await writeFile(TARGET, [HEAD, ...packages.map(entryOf)].join(`\n${'-'.repeat(78)}\n\n`));

/** The packages that ours depends on when it runs, and those that they depend on, by name. */
async function readPackages() {
  const found = new Map();
  const waiting = [{ folder: PROJECT, isOurs: true }];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    const stated = JSON.parse(await readFile(join(next.folder, 'package.json'), 'utf8'));
    const name = `${stated.name} ${stated.version}`;
    if (found.has(name)) continue;
    if (!next.isOurs)
      found.set(name, { name, licence: stated.license, text: await licenceIn(next.folder, name) });
    for (const wanted of Object.keys(stated.dependencies ?? {})) {
      waiting.push({ folder: await folderOf(wanted, next.folder), isOurs: false });
    }
  }
  const all = [...found.values()].sort((a, b) => (a.name < b.name ? -1 : 1));
  const strange = all.filter(({ licence }) => !ACCEPTED.includes(licence));
  if (strange.length > 0) throw new Error(`not an accepted licence: ${JSON.stringify(strange)}`);
  return all;
}

/** Where Node would find a package: in the nearest node_modules upwards. */
async function folderOf(name, from) {
  for (let folder = from; ; folder = dirname(folder)) {
    const there = join(folder, 'node_modules', name);
    if (await stat(there).catch(() => null)) return there;
    if (folder === dirname(folder)) throw new Error(`${name}, which ${from} needs, is not installed`);
  }
}

async function licenceIn(folder, name) {
  const file = (await readdir(folder)).find((one) => /^licen[cs]e(\.(md|txt))?$/i.test(one));
  if (file === undefined) throw new Error(`${name} has no licence text`);
  return await readFile(join(folder, file), 'utf8');
}

function entryOf({ name, licence, text }) {
  return `${name} (${licence})\n\n${text.trim()}\n`;
}
