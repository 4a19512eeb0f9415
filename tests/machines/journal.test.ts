import { describe, expect, it } from 'vitest';
import { checkLine, formatLine, parseLine } from '../../machines/journal.ts';
import { openLine } from '../support/journal-builder.ts';

/** Every field of every line that design section 4 documents: what is taken, what is refused, and in which words. */
type Fields = Record<string, unknown>;
const problemOf = (value: unknown) => {
  const parsed = checkLine(value);
  return parsed.ok ? 'taken' : `${parsed.field} ${parsed.problem}`;
};
const without = (line: Fields, field: string) =>
  Object.fromEntries(Object.entries(line).filter(([key]) => key !== field));
/** One row a field: values that are taken, then values refused with their message. */
type FieldRow = readonly [
  field: string,
  taken: readonly unknown[],
  refused: readonly (readonly [unknown, string])[],
];
const checkFields = (line: Fields, rows: readonly FieldRow[]) => {
  for (const [field, taken, refused] of rows) {
    for (const value of taken)
      expect([field, value, problemOf({ ...line, [field]: value })]).toEqual([field, value, 'taken']);
    for (const [value, problem] of refused)
      expect([field, value, problemOf({ ...line, [field]: value })]).toEqual([
        field,
        value,
        `${field} ${problem}`,
      ]);
  }
};
const missing = [undefined, 'is missing'] as const;
const long = (length: number) => 'x'.repeat(length);
const oneOf = (...choices: string[]) => `is not one of ${choices.join(', ')}`;

describe('the open line', () => {
  const open: Fields = openLine();

  it('is taken as design section 4 shows it, its defaults filled in', () => {
    const text =
      '{"kind":"open","version":1,"id":"7b1f7c1e-6d5a-4d0e-9a44-0c5b7c1d2e3f","openedAt":"2026-03-02T09:30:00.000Z",' +
      '"pattern":"newborn-3-1","guideline":"us-style","rig":"manikin","airway":"mask","binding":"place",' +
      '"sources":{"chest":{"kind":"keyboard","stepMs":1},"airway":{"kind":"keyboard","stepMs":1}},' +
      '"people":{"A":"Ada","B":"Ben"},"roles":{"compressor":"A","ventilator":"B"},' +
      '"technique":"two-thumb","stance":"foot-end","guidance":"unled"}';
    expect(parseLine(text)).toEqual({
      ok: true,
      unknownFields: 0,
      line: openLine({ tolerance: 'standard', cycleMs: 2000, bounceMs: 25 }),
    });
  });
  it('takes and refuses, field by field', () => {
    const id = '7b1f7c1e-6d5a-4d0e-9a44-0c5b7c1d2e3f';
    const source = { kind: 'keyboard', stepMs: 1 };
    const weaning = {
      silentAfter: { cycles: 8, of: 10 },
      returnsAfter: { cycles: 3, of: 5 },
      leastMs: 15_000,
    };
    checkFields(open, [
      ['version', [1], [missing, [0, 'is not 1'], ['1', 'is not 1']]],
      ['id', [id], [missing, [7, 'is not text'], ['7b1f7c1e', 'is not a UUID']]],
      [
        'openedAt',
        ['2026-03-02T09:30:00Z', '2026-03-02T09:30:00.123456Z'],
        [
          missing,
          [0, 'is not text'],
          ['2026-03-02T09:30:00+01:00', 'is not an ISO 8601 time in UTC'],
          ['yesterday', 'is not an ISO 8601 time in UTC'],
        ],
      ],
      ['pattern', ['newborn-3-1'], [missing, ['infant-15-2', 'is not newborn-3-1']]],
      [
        'guideline',
        ['us-style', 'uk-european-style', long(64)],
        [
          missing,
          [1, 'is not text'],
          ['US', 'is not a short name of a-z, 0-9 and -'],
          ['', 'is not a short name of a-z, 0-9 and -'],
          [long(65), 'is not a short name of a-z, 0-9 and -'],
        ],
      ],
      ['rig', ['manikin', 'rhythm'], [missing, ['table', oneOf('manikin', 'rhythm')]]],
      ['airway', ['mask', 'secured'], [missing, ['tube', oneOf('mask', 'secured')]]],
      ['binding', ['place', 'person'], [missing, ['chest', oneOf('place', 'person')]]],
      ['tolerance', ['standard', 'first', undefined], [['strict', oneOf('standard', 'first')]]],
      [
        'cycleMs',
        [500, 2000, 2000.001, 20_000, undefined],
        [
          [499.999, 'is not 500 to 20000 ms'],
          [20_000.001, 'is not 500 to 20000 ms'],
          [2000.0001, 'is not 500 to 20000 ms'],
          ['2000', 'is not a number'],
        ],
      ],
      [
        'bounceMs',
        [0, 25, 200, undefined],
        [
          [-0.001, 'is not 0 to 200 ms'],
          [200.001, 'is not 0 to 200 ms'],
          [null, 'is not a number'],
        ],
      ],
      [
        'sources',
        [{}, { chest: source }],
        [missing, ['keyboard', 'is not a table of time sources'], [1, 'is not a table of time sources']],
      ],
      ['people', [{ A: '', B: long(80) }], [missing, ['Ada', 'does not name A and B']]],
      [
        'roles',
        [{ compressor: 'B', ventilator: 'A' }],
        [
          missing,
          ['A', 'is not a pair of roles'],
          [{ compressor: 'A', ventilator: 'A' }, 'gives both roles to one person'],
        ],
      ],
      ['technique', ['two-thumb', 'two-finger'], [missing, ['one-hand', oneOf('two-thumb', 'two-finger')]]],
      [
        'stance',
        ['foot-end', 'head-end', 'side'],
        [missing, ['left', oneOf('foot-end', 'head-end', 'side')]],
      ],
      ['guidance', ['led', 'weaned', 'unled'], [missing, ['loud', oneOf('led', 'weaned', 'unled')]]],
      ['weaning', [undefined, weaning], [['often', 'is not a rule for weaning']]],
    ]);
  });
  it('names a field inside a field', () => {
    const source = { kind: 'keyboard', stepMs: 1 };
    expect([
      problemOf({
        ...open,
        weaning: { silentAfter: { cycles: 3, of: 2 }, returnsAfter: { cycles: 1, of: 1 }, leastMs: 0 },
      }),
      problemOf({ ...open, people: { A: 'Ada' } }),
      problemOf({ ...open, people: { A: 'Ada', B: long(81) } }),
      problemOf({ ...open, people: { A: 'Ada', B: 1 } }),
      problemOf({ ...open, roles: { compressor: 'A' } }),
      problemOf({ ...open, roles: { compressor: 'C', ventilator: 'A' } }),
      problemOf({ ...open, sources: { chest: { kind: 'keyboard' } } }),
      problemOf({ ...open, sources: { chest: { ...source, stepMs: 1000.001 } } }),
      problemOf({ ...open, sources: { chest: { ...source, kind: 'A Key' } } }),
      problemOf({ ...open, sources: { chest: 1 } }),
    ]).toEqual([
      'weaning.silentAfter asks for more cycles than it looks at',
      'people.B is missing',
      'people.B is longer than 80 characters',
      'people.B is not text',
      'roles.ventilator is missing',
      'roles.compressor is not one of A, B',
      'sources.chest.stepMs is missing',
      'sources.chest.stepMs is not 0 to 1000 ms',
      'sources.chest.kind is not a short name of a-z, 0-9 and -',
      'sources.chest is not a time source',
    ]);
  });
  it('of a greater version is refused, whatever else it holds', () => {
    expect(checkLine({ kind: 'open', version: 2 })).toEqual({
      ok: false,
      newerVersion: true,
      field: 'version',
      problem: 'is 2: this journal was made by a newer release and is left untouched',
    });
  });
});

const edge: Fields = { kind: 'edge', at: 1000.2, switch: 'chest', down: true };
const tick: Fields = { kind: 'tick', at: 1, item: 'chest-rise', met: true, by: 'instructor' };
const device: Fields = { kind: 'device', at: 1, what: 'unplugged', switch: 'chest' };
const note: Fields = { kind: 'note', at: 1, text: '…' };
const recovered: Fields = { kind: 'recovered', at: 1, bytes: 12, text: '{"kind":"ed' };
const close: Fields = { kind: 'close', at: 1 };
const mark: Fields = { kind: 'mark', at: 1, row: 1000.2, missed: true };
const signature: Fields = {
  kind: 'signature',
  person: 'A',
  at: 1,
  signedAt: '2026-03-02T10:04:00.000Z',
  by: 'Cleo',
  standard: 'The course’s own',
  decision: 'met',
};
const call = (name: string, fields: Fields = {}): Fields => ({ kind: 'call', at: 1, call: name, ...fields });
const calls: readonly Fields[] = [
  ...['begin', 'swap', 'taken', 'check', 'checked', 'rest', 'resume', 'undo', 'finish'].map((name) =>
    call(name),
  ),
  call('begin', { stage: 'ventilation' }),
  call('technique', { technique: 'two-finger' }),
  call('stance', { stance: 'head-end' }),
  call('airway', { airway: 'secured' }),
  call('guidance', { guidance: 'led' }),
  call('tempo', { cycleMs: 3000 }),
  call('heart-rate', { bpm: 50 }),
];

describe('a line with a time', () => {
  const lines = [edge, tick, device, note, mark, signature, recovered, close, ...calls];

  it('is taken, and written as it was read', () => {
    for (const line of lines) {
      const parsed = checkLine(line);
      expect(parsed).toEqual({ ok: true, line, unknownFields: 0 });
      if (parsed.ok) expect(parseLine(formatLine(parsed.line))).toEqual(parsed);
    }
  });
  it('has a time from 0 to 86 400 000 ms, in whole microseconds', () => {
    for (const line of [...lines, { kind: 'from-later' }]) {
      checkFields(line, [
        [
          'at',
          [0, 0.001, 1000.2, 123_456.789, 86_399_999.999, 86_400_000],
          [
            [-0.001, 'is not between 0 and 86400000 ms'],
            [86_400_000.001, 'is not between 0 and 86400000 ms'],
            [1.0005, 'has more than three decimals'],
            ['1000', 'is not a number of milliseconds'],
            [null, 'is not a number of milliseconds'],
            [Number.NaN, 'is not a number of milliseconds'],
            [Number.POSITIVE_INFINITY, 'is not between 0 and 86400000 ms'],
          ],
        ],
      ]);
    }
    for (const line of lines) expect(problemOf(without(line, 'at'))).toBe('at is missing');
  });
  it('keeps, counts and skips fields it does not know', () => {
    for (const line of [openLine(), ...lines])
      expect(checkLine({ ...line, colour: 'green', mood: null })).toMatchObject({
        ok: true,
        unknownFields: 2,
      });
  });
});

describe('each kind of line', () => {
  it('takes and refuses, field by field', () => {
    checkFields(edge, [
      ['switch', ['chest', 'airway', 'A', 'B'], [missing, ['pedal', oneOf('chest', 'airway', 'A', 'B')]]],
      ['down', [true, false], [missing, [1, 'is not true or false']]],
      ['lost', [true, false, undefined], [['yes', 'is not true or false']]],
    ]);
    checkFields(tick, [
      ['item', ['chest-rise'], [missing, ['Chest rise', 'is not a short name of a-z, 0-9 and -']]],
      ['met', [true, false, null], [missing, ['yes', 'is not true, false or null']]],
      ['by', ['instructor', 'observer'], [missing, ['learner', oneOf('instructor', 'observer')]]],
    ]);
    checkFields(device, [
      [
        'leg',
        [0, 60, undefined],
        [
          [-1, 'is not 0 to 60 legs'],
          [61, 'is not 0 to 60 legs'],
          [1.5, 'is not whole'],
        ],
      ],
      ['what', ['unplugged'], [missing, [true, 'is not text']]],
      ['switch', ['chest', 'F13', undefined], [[long(65), 'is longer than 64 characters']]],
    ]);
    const given = {
      kind: 'count',
      at: 5,
      what: 'given',
      by: 'sound',
      fromMs: 4000.5,
      beat: 'one',
      cycleMs: 2000.02,
      outputLatencyMs: 12.3,
      errorMs: 0.1,
    };
    checkFields(given, [
      [
        'what',
        ['given'],
        [
          [undefined, oneOf('given', 'stopped')],
          ['played', oneOf('given', 'stopped')],
        ],
      ],
      ['by', ['sound', 'sight'], [missing, ['touch', oneOf('sound', 'sight')]]],
      ['fromMs', [0, 86_400_000], [missing, [-1, 'is not between 0 and 86400000 ms']]],
      [
        'beat',
        ['one', 'two', 'three', 'breathe'],
        [missing, ['and', oneOf('one', 'two', 'three', 'breathe')]],
      ],
      ['cycleMs', [2000, 3000.001], [missing, [0, 'is not 500 to 20000 ms']]],
      ['outputLatencyMs', [null, 0, 25.4], [missing, [-1, 'is not 0 to 60000 ms']]],
      ['errorMs', [null, 0.05], [missing]],
    ]);
    checkFields({ kind: 'count', at: 5, what: 'stopped', lastMs: 9000 }, [
      ['lastMs', [null, 0], [missing, [0.0001, 'has more than three decimals']]],
    ]);
    checkFields(note, [
      ['text', ['', long(4000)], [missing, [long(4001), 'is longer than 4000 characters']]],
    ]);
    checkFields(mark, [
      [
        'row',
        [-100, 0, 1000.202, 86_400_000],
        [
          missing,
          [-100.001, 'is not -100 to 86400000 ms'],
          [1.0005, 'is not -100 to 86400000 ms'],
          ['3', 'is not a number'],
        ],
      ],
      ['missed', [true, false], [missing, [null, 'is not true or false']]],
    ]);
    checkFields(signature, [
      ['signedAt', ['2026-03-02T10:04:00Z'], [missing, ['10:04', 'is not an ISO 8601 time in UTC']]],
      ['by', ['Cleo', long(80)], [missing, [' ', 'is empty'], [long(81), 'is longer than 80 characters']]],
      ['standard', [long(200)], [missing, ['', 'is empty'], [long(201), 'is longer than 200 characters']]],
      [
        'decision',
        ['met', 'not yet', 'not assessed'],
        [missing, ['pass', oneOf('met', 'not yet', 'not assessed')]],
      ],
    ]);
    checkFields(recovered, [
      ['bytes', [0, 1e9], [missing, [-1, 'is not 0 to 1000000000000 bytes']]],
      ['text', [''], [missing]],
    ]);
  });
  it('and each call', () => {
    checkFields(call('begin'), [
      ['stage', ['ventilation', undefined], [['compression', 'is not ventilation']]],
    ]);
    checkFields(call('technique'), [
      ['technique', ['two-thumb', 'two-finger'], [missing, ['x', oneOf('two-thumb', 'two-finger')]]],
    ]);
    checkFields(call('stance'), [
      ['stance', ['foot-end', 'head-end', 'side'], [missing, [0, oneOf('foot-end', 'head-end', 'side')]]],
    ]);
    checkFields(call('airway'), [['airway', ['mask', 'secured'], [missing, ['', oneOf('mask', 'secured')]]]]);
    checkFields(call('guidance'), [
      ['guidance', ['led', 'weaned', 'unled'], [missing, ['on', oneOf('led', 'weaned', 'unled')]]],
    ]);
    checkFields(call('tempo'), [
      [
        'cycleMs',
        [500, 20_000],
        [missing, [499, 'is not 500 to 20000 ms'], [20_001, 'is not 500 to 20000 ms']],
      ],
    ]);
    checkFields(call('heart-rate'), [
      [
        'bpm',
        [0, 50, 300],
        [missing, [-1, 'is not 0 to 300 beats a minute'], [301, 'is not 0 to 300 beats a minute']],
      ],
    ]);
  });
  it('of a call it does not know, or that has no name, is an error', () => {
    expect(problemOf(call('applaud'))).toBe('call is not a call this version knows: "applaud"');
    expect(problemOf(call('constructor'))).toBe('call is not a call this version knows: "constructor"');
    expect(problemOf({ kind: 'call', at: 1 })).toBe('call is not a call this version knows: nothing');
  });
  it('that it does not know is skipped', () => {
    for (const kind of ['video', 'constructor', '__proto__', ''])
      expect(checkLine({ kind, at: 5, anything: [1] })).toEqual({
        ok: true,
        line: { kind: 'unknown', at: 5 },
        unknownFields: 0,
      });
    expect(checkLine({ kind: 'video' })).toEqual({ ok: true, line: { kind: 'unknown' }, unknownFields: 0 });
  });
});
