import fc from 'fast-check';
import { formatLine } from '../../machines/journal.ts';
import { type AnyJournal, anyJournal } from './arbitrary-journal.ts';

export function textOf({ open, lines }: AnyJournal): string {
  const texts = lines.map(({ line }) => (line.kind === 'unknown' ? '{"kind":"later"}' : formatLine(line)));
  return [formatLine(open), ...texts, ''].join('\n');
}

/** Text that is no journal at all, or one that has been cut, shuffled, spliced or had its values changed. */
export const anyText: fc.Arbitrary<string> = fc.oneof(
  { weight: 1, arbitrary: fc.string({ unit: 'binary', maxLength: 400 }) },
  {
    weight: 1,
    arbitrary: fc.uint8Array({ maxLength: 400 }).map((bytes) => new TextDecoder('latin1').decode(bytes)),
  },
  { weight: 2, arbitrary: fc.array(fc.json(), { maxLength: 8 }).map((lines) => lines.join('\n')) },
  { weight: 3, arbitrary: anyJournal(8).chain((journal) => truncated(textOf(journal))) },
  { weight: 3, arbitrary: anyJournal(8).chain((journal) => spliced(textOf(journal))) },
  { weight: 3, arbitrary: anyJournal(6).chain((journal) => shuffled(textOf(journal))) },
  { weight: 6, arbitrary: anyJournal(8).chain((journal) => withValuesChanged(textOf(journal))) },
);

function truncated(text: string): fc.Arbitrary<string> {
  return fc
    .tuple(fc.nat(text.length), fc.constantFrom('', '\0\0\0', '\n', '\n\n'))
    .map(([length, tail]) => text.slice(0, length) + tail);
}

function spliced(text: string): fc.Arbitrary<string> {
  return fc
    .tuple(fc.nat(text.length), fc.nat(40), fc.string({ unit: 'binary', maxLength: 12 }))
    .map(([from, cut, put]) => text.slice(0, from) + put + text.slice(from + cut));
}

/** Lines in any order, some left out; the open line is often left first, so that the rest is looked at. */
function shuffled(text: string): fc.Arbitrary<string> {
  const lines = text.trimEnd().split('\n');
  return fc.tuple(fc.shuffledSubarray(lines.slice(1)), fc.boolean()).map(([rest, isOpenFirst]) => {
    const [open = ''] = lines;
    return (isOpenFirst ? [open, ...rest] : [...rest, open]).join('\n');
  });
}

const oddValue = fc.oneof(
  fc.constantFrom<unknown>(
    null,
    true,
    '',
    -1,
    0,
    -0,
    0.0005,
    86_400_000,
    86_400_000.001,
    1e308,
    5e-324,
    'chest',
    'open',
    'call',
    'undo',
    [],
    {},
  ),
  fc.jsonValue(),
  fc.double({ noNaN: true }),
);

/** One to three fields of some lines take a value they should not, or are missing; lines stay JSON. */
function withValuesChanged(text: string): fc.Arbitrary<string> {
  const lines = text.trimEnd().split('\n');
  const change = fc.record({
    line: fc.nat(lines.length - 1),
    field: fc.nat(12),
    value: fc.option(oddValue, { nil: undefined }),
    raw: fc.constantFrom(undefined, '1e999', '-1e999', '00', 'NaN'),
  });
  return fc.array(change, { minLength: 1, maxLength: 3 }).map((changes) => {
    const changed = [...lines];
    for (const { line, field, value, raw } of changes) {
      const record: unknown = parsed(changed[line] ?? '');
      if (typeof record !== 'object' || record === null) continue;
      const keys = Object.keys(record);
      const key = keys[field % keys.length];
      if (key === undefined) continue;
      const text = JSON.stringify({ ...record, [key]: raw === undefined ? value : '@raw@' });
      changed[line] = raw === undefined ? text : text.replace('"@raw@"', raw);
    }
    return changed.join('\n');
  });
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
