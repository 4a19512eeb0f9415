import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fileProblemWords } from '../../../machines/json-file.ts';
import { EXAMPLE_STANDARD } from '../../../machines/standard/standard.ts';
import { checkStandard, formatStandard, parseStandard } from '../../../machines/standard/standard-file.ts';

const TEXT = formatStandard(EXAMPLE_STANDARD);
function refusalOf(text: string): string {
  const parsed = parseStandard(text);
  return parsed.ok ? 'taken' : fileProblemWords(parsed.problem);
}
function exampleWith(from: string, to: string): string {
  if (!TEXT.includes(from)) throw new Error(`${from} is not in the file`);
  return TEXT.replace(from, to);
}

describe('a standard’s file', () => {
  it('is read back as it was written, and the example says that it is one', () => {
    expect(parseStandard(TEXT)).toEqual({ ok: true, value: EXAMPLE_STANDARD });
    expect(EXAMPLE_STANDARD.note).toBe(
      'An example, made of tool defaults: your course’s own standard replaces it.',
    );
  });

  it.each([
    ['"compressor": 50', '"compressor": 0', 'line 9: requires.unledSeconds.compressor is not 1 to 3600 s'],
    [
      '"compressor": 50',
      '"compressr": 60',
      'line 9: requires.unledSeconds.compressr is not a field of a standard',
    ],
    ['"least": 0.7', '"least": 70', 'line 15: requires.timing.coordinatedShare.least is not 0 to 1'],
    ['"least": 0.7', '"most": 0.7', 'line 14: requires.timing.coordinatedShare.least is missing'],
    [
      '"least": 80',
      '"least": 101',
      'line 17: requires.timing.compressionsPerMin has its least above its most',
    ],
    ['"swap": true', '"swap": false', 'line 12: requires.swap is not true'],
    ['"manikin"', '"rhythm"', 'line 7: requires.rig is not manikin'],
    ['"depth"', '"grip"', 'line 41: requires.ticks.2 is not one of'],
    ['"depth"', '"position"', 'line 38: requires.ticks names one twice'],
    ['"version": 1', '"version": 3', 'line 3: version is 3: this standard was made by a newer release'],
    ['"cycleJitterMs"', '"cycleJitter"', 'line 25: requires.timing.cycleJitter is not a field of a standard'],
    ['"swap": true,', '"swap": true', 'line 13: here the text is not JSON'],
  ])('with %s written as %s is refused with its line and reason', (from, to, words) => {
    expect(refusalOf(exampleWith(from, to))).toContain(words);
  });

  it.each([{}, { timing: {} }, { unledSeconds: {} }, { ticks: [] }, { timing: { breathsPerMin: {} } }])(
    'that asks for nothing is none, or everybody would have met it: %j',
    (requires) => {
      expect(checkStandard({ ...EXAMPLE_STANDARD, requires }).ok).toBe(false);
    },
  );

  it('never throws, whatever the text', () => {
    const bitten = fc
      .tuple(fc.nat(TEXT.length), fc.nat(20), fc.string({ maxLength: 4 }))
      .map(([at, bite, put]) => TEXT.slice(0, at) + put + TEXT.slice(at + bite));
    fc.assert(
      fc.property(fc.oneof(bitten, fc.json()), (text) => {
        const parsed = parseStandard(text);
        if (!parsed.ok) expect(parsed.problem.line).toBeLessThanOrEqual(text.split('\n').length);
      }),
    );
  });
});
