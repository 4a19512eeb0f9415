import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { describe, expect, it } from 'vitest';

const ROOT = resolve(import.meta.dirname, '../..');
const ROOMS = ['machines', 'electron', 'renderer'] as const;
type Room = (typeof ROOMS)[number];

/** What each room may import of ours, and from outside. The same arrows stand in DEVELOPERS.md. */
const MAY_IMPORT: Record<Room, (target: string) => boolean> = {
  machines: (target) => target.startsWith('machines/'),
  electron: (target) => target.startsWith('electron/') || target.startsWith('machines/'),
  renderer: (target) =>
    target.startsWith('renderer/') || target.startsWith('machines/') || target === 'electron/contract.ts',
};
const MAY_USE: Record<Room, RegExp> = {
  machines: /^(xstate|valibot|d3-array)$/,
  electron: /^(node:[a-z/_]+|electron|valibot)$/,
  renderer: /^(howler|react(-dom)?(\/.+)?|xstate|@xstate\/react)$/,
};
/** Loaded by both sides of the bridge, so it imports nothing but machines. */
const BRIDGE_FILE = 'electron/contract.ts';

type Import = { from: string; target: string; isOurs: boolean };

function filesUnder(folder: string): string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.(ts|tsx)$/.test(name) && !name.endsWith('.d.ts'))
    .map((name) => join(folder, name).split(sep).join('/'));
}

function importsOf(file: string): Import[] {
  const text = readFileSync(join(ROOT, file), 'utf8').replace(/\/\*[\s\S]*?\*\/|^\s*\/\/.*$/gm, '');
  const specifiers = [...text.matchAll(/(?:\bfrom\s*|\bimport\s*\(?\s*)(['"])([^'"\n]+)\1/g)].map(
    (match) => match[2] ?? '',
  );
  return specifiers.map((specifier) => {
    if (!specifier.startsWith('.')) return { from: file, target: specifier, isOurs: false };
    const target = relative(ROOT, resolve(ROOT, dirname(file), specifier))
      .split(sep)
      .join('/');
    return { from: file, target, isOurs: true };
  });
}

describe('the import arrows', () => {
  for (const room of ROOMS) {
    const files = filesUnder(room);
    const imports = files.flatMap(importsOf);

    it(`are kept in ${room}/`, () => {
      expect(files.length).toBeGreaterThan(5);
      expect(imports.length).toBeGreaterThan(files.length / 2);
      const wrong = imports.filter(({ target, isOurs }) =>
        isOurs ? !MAY_IMPORT[room](target) && !target.endsWith('.css') : !MAY_USE[room].test(target),
      );
      expect(wrong).toEqual([]);
    });
  }

  it('are kept by the bridge’s file, which both sides load', () => {
    const imports = importsOf(BRIDGE_FILE);
    expect(imports.length).toBeGreaterThan(1);
    expect(imports.filter(({ target, isOurs }) => (isOurs ? !target.startsWith('machines/') : true))).toEqual(
      [],
    );
  });

  it('are read well enough to see a wrong one', () => {
    expect(importsOf('tests/tools/import-arrows.test.ts').map(({ target }) => target)).toContain('vitest');
  });
});
