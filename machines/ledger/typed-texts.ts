import { AIRWAYS, PERSONS, SWITCH_NAMES } from '../journal.ts';
import { foldedText, namePattern, personKey, SOMEONE } from './person-name.ts';

/**
 * What people typed, told apart from the format's own words: a person may be called "Led". Used alike to take a name out of a line
 * and to find it there.
 */

/** Stands where a name was within a longer text: never longer than the name. */
const TAKEN_OUT = '…';
const KNOWN_KINDS: ReadonlySet<unknown> = new Set([
  'open',
  'edge',
  'call',
  'count',
  'tick',
  'device',
  'note',
  'recovered',
  'mark',
  'signature',
  'close',
]);
/** Fields of known lines, and of what stands in them, that hold none but the format's words. */
const OWN_FIELDS: ReadonlySet<string> = new Set([
  ...['kind', 'id', 'openedAt', 'pattern', 'guideline', 'rig', 'binding', 'tolerance', 'outcome', 'at'],
  ...[
    'technique',
    'stance',
    'guidance',
    'techniques',
    'stances',
    'guidances',
    'compressor',
    'ventilator',
    'call',
    'what',
  ],
  ...['item', 'by', 'given', 'beat', 'stage', 'person', 'decision', 'signedAt'],
]);

/** Fields that hold a word of the format's, or what was typed: a class has somebody at the airway. */
const OWN_VALUES: ReadonlyMap<string, readonly unknown[]> = new Map<string, readonly unknown[]>([
  ['switch', SWITCH_NAMES],
  ['airway', AIRWAYS],
]);

/** How the format names its fields. */
const OUR_FIELD = /^[a-z][A-Za-z-]*$|^[AB]$/;

/** Does the name stand in one of the texts of a file's lines that people typed? Never throws, whatever the lines are. */
export function isNameIn(fileText: string, name: string): boolean {
  const pattern = namePattern(name);
  if (pattern === null || !hasMatch(unescaped(fileText), pattern)) return false;
  const whole = parsed(fileText);
  const values =
    whole === undefined ? fileText.split('\n').map((line) => parsed(line) ?? unescaped(line)) : [whole];
  let isFound = false;
  for (const value of values) {
    mapTyped(value, isKnown(value), (text) => {
      isFound ||= hasMatch(text, pattern);
      return text;
    });
  }
  return isFound;
}

/**
 * A journal's line without a person: "someone" where they are named, and nothing left of notes and of torn text if the drill was
 * theirs, since those may speak of them in other words. Lines stay where they are, so that nothing is renumbered.
 */
export function lineWithoutPerson(text: string, name: string, isTheirDrill: boolean): string {
  const line = parsed(text);
  const pattern = namePattern(name);
  if (typeof line !== 'object' || line === null || pattern === null) return text;
  const record = { ...line } as Record<string, unknown>;
  if (isTheirDrill && (record.kind === 'note' || record.kind === 'recovered')) record.text = '';
  const without = mapTyped(record, isKnown(record), (typed) => {
    if (!hasMatch(typed, pattern)) return typed;
    const without = typed.normalize('NFC').replaceAll(pattern, TAKEN_OUT);
    // Some capitals are found in small letters alone.
    return hasMatch(without, pattern) ? TAKEN_OUT : without;
  }) as Record<string, unknown>;
  if (record.kind === 'open') without.people = withoutThem(record.people, without.people, name);
  const written = JSON.stringify(without);
  return written === JSON.stringify(line) ? text : written;
}

/** The two by their whole names: another's stays as it is, also where it begins alike ("Ada Lovelace", "Ada (2)"). */
function withoutThem(before: unknown, without: unknown, name: string): unknown {
  if (typeof before !== 'object' || before === null || typeof without !== 'object') return without;
  const key = personKey(name);
  const pair = Object.entries(before).filter(([person]) => PERSONS.some((one) => one === person));
  const isThem = (other: unknown) => typeof other === 'string' && personKey(other) === key;
  return {
    ...without,
    ...Object.fromEntries(pair.map(([person, other]) => [person, isThem(other) ? SOMEONE : other])),
  };
}

/** The same value with every typed text, and every field's name that is not the format's, passed through `change`. */
function mapTyped(value: unknown, isOurs: boolean, change: (text: string) => string): unknown {
  if (typeof value === 'string') return change(value);
  if (Array.isArray(value)) return value.map((one) => mapTyped(one, isOurs, change));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([field, inner]) => {
      if (isOurs && isOwn(field, inner, value)) return [field, inner];
      const kept = (isOurs && OUR_FIELD.test(field)) || field === 'kind' ? field : change(field);
      return [kept, field === 'kind' ? inner : mapTyped(inner, isOurs, change)];
    }),
  );
}

/** Who ticked is one of our words; who signed is a name. */
function isOwn(field: string, inner: unknown, of: object): boolean {
  const isSigner = field === 'by' && 'kind' in of && of.kind === 'signature';
  return !isSigner && (OWN_FIELDS.has(field) || OWN_VALUES.get(field)?.includes(inner) === true);
}

/** A line of ours, or a file of ours that is one JSON value (settings, a plan, the index's table). */
function isKnown(value: unknown): boolean {
  if (typeof value !== 'object' || value === null) return false;
  return Array.isArray(value) || !('kind' in value) || 'version' in value || KNOWN_KINDS.has(value.kind);
}

function hasMatch(text: string, pattern: RegExp): boolean {
  const composed = text.normalize('NFC');
  return [composed, foldedText(composed)].some((one) => {
    pattern.lastIndex = 0;
    return pattern.test(one);
  });
}

const CONTROLS: Record<string, string> = { n: '\n', r: '\r', t: '\t', b: '\b', f: '\f' };

/** JSON's escapes undone. */
function unescaped(text: string): string {
  if (!text.includes('\\')) return text;
  return text.replaceAll(
    /\\(?:u([0-9a-fA-F]{4})|(.))/gu,
    (_all, code: string | undefined, letter: string) => {
      if (code !== undefined) return String.fromCharCode(Number.parseInt(code, 16));
      return CONTROLS[letter] ?? letter;
    },
  );
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
