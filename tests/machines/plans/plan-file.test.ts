import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkLine } from '../../../machines/journal.ts';
import { fileProblemWords } from '../../../machines/json-file.ts';
import { MOST_LEGS, type Plan } from '../../../machines/plans/plan.ts';
import { checkPlan, formatPlan, MAX_PLAN_CHARACTERS, parsePlan } from '../../../machines/plans/plan-file.ts';
import { newPlan, practise, READY_MADE, READY_MADE_NAMES } from '../../../machines/plans/ready-made.ts';
import { openLine } from '../../support/journal-builder.ts';

/** What a text is refused with, as people read it. */
function refusalOf(text: string): string {
  const parsed = parsePlan(text);
  return parsed.ok ? 'taken' : fileProblemWords(parsed.problem);
}

/** The cold minute's file with one line written anew. */
function coldMinuteWith(from: string, to: string): string {
  const text = formatPlan(READY_MADE['cold-minute']);
  if (!text.includes(from)) throw new Error(`${from} is not in the file`);
  return text.replace(from, to);
}

describe('a plan file', () => {
  it.each(READY_MADE_NAMES)('of %s is read back as it was written', (name) => {
    expect(parsePlan(formatPlan(READY_MADE[name]))).toEqual({ ok: true, plan: READY_MADE[name] });
  });

  it.each([
    ['"seconds": 60', '"seconds": 4', 'line 21: legs.0.seconds is not 5 to 3600 s, whole'],
    ['"seconds": 60', '"seconds": "60"', 'line 21: legs.0.seconds is not a number'],
    ['"seconds": 60', '"secnds": 60', 'line 13: legs.0.seconds is missing'],
    ['"seconds": 60', '"seconds": 60, "colour": "red"', 'line 21: legs.0.colour is not a field of a plan'],
    [
      '"kind": "practise"',
      '"kind": "sermon"',
      'line 14: legs.0.kind is not practise, ventilation, rest or check',
    ],
    [
      '"technique": "two-thumb"',
      '"technique": "one-hand"',
      'line 16: legs.0.technique is not one of two-thumb, two-finger',
    ],
    [
      '"compressor": "stay"',
      '"compressor": "swap"',
      'line 12: legs begins with a swap, before which there is no leg',
    ],
    [
      '"warningSeconds": 10',
      '"warningSeconds": 61',
      'line 24: legs.0.next.warningSeconds is not 0 to 60 s, whole',
    ],
    ['"seconds": 60', '"seconds": 8', 'line 22: legs.0.next warns for longer than the leg lasts'],
    ['"name": "Cold minute"', '"name": " "', 'line 4: name is empty'],
    ['"version": 1', '"version": 2', 'line 3: version is 2: this plan was made by a newer release'],
    ['"version": 1', '"version": 0', 'line 3: version is not 1'],
    ['"kind": "antiphon-plan"', '"kind": "shopping"', 'line 2: kind is not antiphon-plan'],
    ['"seconds": 60,', '"seconds": 60', 'line 22: here the text is not JSON'],
    ['"seconds": 60', '"seconds": 060', 'line 21: here the text is not JSON'],
  ])('with %s written as %s is refused with its line and reason', (from, to, words) => {
    expect(refusalOf(coldMinuteWith(from, to))).toBe(words);
  });

  it.each([
    ['nothing', '', 'line 1: the file is empty'],
    ['a list', '[]', 'line 1: this is not a plan'],
    ['a number', '\n\n7', 'line 3: this is not a plan'],
    ['half a plan', '{"kind":"antiphon-plan",\n"version":1', 'line 2: here the text is not JSON'],
    ['a journal', '{"kind":"open"}\n{"kind":"call"}', 'line 2: here the text is not JSON'],
    ['brackets without end', '['.repeat(30_000), 'line 1: here the text is not JSON'],
    [
      'a megabyte',
      'x'.repeat(1_000_000),
      `line 1: the file is longer than ${MAX_PLAN_CHARACTERS} characters`,
    ],
  ])('that is %s is refused', (_what, text, words) => {
    expect(refusalOf(text)).toBe(words);
  });

  it('with a byte order mark and Windows line ends is a plan all the same', () => {
    const text = `\uFEFF${formatPlan(READY_MADE['head-end']).replaceAll('\n', '\r\n')}`;
    expect(parsePlan(text)).toEqual({ ok: true, plan: READY_MADE['head-end'] });
  });

  it('is refused for its rest or check at the start, for too many legs, and for lasting too long', () => {
    const withLegs = (legs: unknown[]) => checkPlan({ ...newPlan('A plan'), legs });
    const rest = { kind: 'rest', seconds: 10, next: { by: 'instructor' } };
    const many = Array.from({ length: MOST_LEGS + 1 }, () => practise());
    const long = Array.from({ length: 5 }, () => practise({ seconds: 3600 }));
    expect([withLegs([]), withLegs([rest]), withLegs(many), withLegs(long)]).toEqual(
      [
        'is empty',
        'begins with neither practise nor ventilation',
        'is longer than 60 legs',
        'last longer than 14400 s',
      ].map((problem) => ({ ok: false, path: ['legs'], problem })),
    );
  });

  it('never throws, whatever the text, and always says a line that it has', () => {
    const whole = formatPlan(READY_MADE['whole-sequence']);
    const bitten = fc
      .tuple(fc.nat(whole.length), fc.nat(20), fc.string({ maxLength: 4 }))
      .map(([at, bite, put]) => whole.slice(0, at) + put + whole.slice(at + bite));
    fc.assert(
      fc.property(fc.oneof(bitten, fc.json(), fc.string()), (text) => {
        const parsed = parsePlan(text);
        if (parsed.ok) return;
        expect(parsed.problem.line).toBeGreaterThanOrEqual(1);
        expect(parsed.problem.line).toBeLessThanOrEqual(text.split('\n').length);
        expect(parsed.problem.problem).not.toBe('');
      }),
      { numRuns: 500 },
    );
  });

  it('is JSON to us exactly when it is JSON to everybody', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.json({ maxDepth: 8 }),
          fc.string(),
          fc.json().map((text) => `${text}]`),
        ),
        (text) => {
          const isRefusedAsText = refusalOf(text).endsWith('here the text is not JSON');
          expect(isRefusedAsText).toBe(text.trim() !== '' && !isJson(text));
        },
      ),
      { numRuns: 500 },
    );
  });
});

describe('the plan in a journal’s open line', () => {
  const lineWith = (plan: unknown) => checkLine({ ...openLine(), plan });

  it('is kept whole, and is absent in journals without one', () => {
    const plan: Plan = READY_MADE['both-techniques'];
    expect(lineWith(plan)).toMatchObject({ ok: true, line: { plan } });
    const bare = checkLine(openLine());
    expect(bare.ok && 'plan' in bare.line).toBe(false);
  });

  it('fits into a line, however large', () => {
    const legs = Array.from({ length: MOST_LEGS }, () => practise({ seconds: 200, note: 'ä'.repeat(200) }));
    const plan = {
      ...newPlan('ä'.repeat(80)),
      legs,
      words: { learners: 'ä'.repeat(400), instructor: 'ä'.repeat(1000) },
    };
    expect(checkPlan(plan).ok).toBe(true);
    expect(new TextEncoder().encode(JSON.stringify({ ...openLine(), plan })).length).toBeLessThan(65_536);
  });

  it('is an error of its field when it is none', () => {
    expect(lineWith({ ...newPlan('A plan'), legs: [] })).toEqual({
      ok: false,
      field: 'plan.legs',
      problem: 'is empty',
    });
  });
});

function isJson(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}
