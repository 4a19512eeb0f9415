import { readFileSync } from 'node:fs';

/**
 * NIST's Statistical Reference Datasets, univariate (www.itl.nist.gov/div898/strd), with their certified values
 * as section 5.1 of the check file holds them, each read there in the GSL's test suite.
 */
export type NistSet = {
  name: string;
  values: number[];
  mean: number;
  sd: number;
  lag1: number;
  sdTolerance: number;
};

/** The relative error allowed for the standard deviation, from the line under section 5.1's table. */
const CLOSE = 1e-13;

export const NIST_SETS: readonly NistSet[] = [
  set('PiDigits', piDigits(), 4.5348, 2.86733906028871, -0.00355099287237972, CLOSE),
  set('Lottery', stored('Lottery'), 518.95871559633, 291.699727470969, -0.120948622967393, CLOSE),
  set('Lew', stored('Lew'), -177.435, 277.332168044316, -0.307304800605679, CLOSE),
  set('Mavro', stored('Mavro'), 2.001856, 0.000429123454003053, 0.937989183438248, CLOSE),
  set('Michelso', stored('Michelso'), 299.8524, 0.0790105478190518, 0.535199668621283, CLOSE),
  set('NumAcc1', [10000001, 10000003, 10000002], 10000002, 1, -0.5, CLOSE),
  set('NumAcc2', alternating(1), 1.2, 0.1, -0.999, CLOSE),
  set('NumAcc3', alternating(1000000), 1000000.2, 0.1, -0.999, 1e-9),
  set('NumAcc4', alternating(10000000), 10000000.2, 0.1, -0.999, 1e-7),
];

function set(
  name: string,
  values: number[],
  mean: number,
  sd: number,
  lag1: number,
  sdTolerance: number,
): NistSet {
  return { name, values, mean, sd, lag1, sdTolerance };
}

function stored(name: string): number[] {
  const text = readFileSync(new URL(`../../fixtures/nist/${name}.txt`, import.meta.url), 'utf8');
  const lines = text.split('\n').filter((line) => !line.startsWith('#'));
  return lines.join(' ').trim().split(/\s+/).map(Number);
}

/** NumAcc2 to 4: one value ending in .2, then .1 and .3 by turns, 1,001 in all; decimal texts, so that each is the nearest double. */
function alternating(whole: number): number[] {
  return [
    Number(`${whole}.2`),
    ...Array.from({ length: 1000 }, (_, k) => Number(`${whole}.${k % 2 === 0 ? 1 : 3}`)),
  ];
}

/**
 * The first 5,000 digits of pi by Machin's formula, with the one digit in which NIST's data differ from pi:
 * the 957th is 8 (…185778053…), and NIST's set has 3. Of all single changes that give the certified mean and standard
 * deviation, 41 give the certified lag-1 autocorrelation as well; the copy in the GSL's test suite shows that it is this one.
 */
function piDigits(): number[] {
  const guard = 10n;
  const unit = 10n ** (5000n + guard);
  const arctanOfInverse = (x: bigint): bigint => {
    let power = unit / x;
    let sum = power;
    for (let k = 3n, sign = -1n; power > 0n; k += 2n, sign = -sign) {
      power /= x * x;
      sum += (sign * power) / k;
    }
    return sum;
  };
  const digits = (4n * (4n * arctanOfInverse(5n) - arctanOfInverse(239n))).toString().slice(0, 5000);
  const inNistsData = `${digits.slice(0, 956)}3${digits.slice(957)}`;
  return inNistsData.split('').map(Number);
}
