import { studentT } from './student-t.ts';
import { mean } from './summary.ts';

/** By how much the second of two sides is above the first, with its interval; in the unit of the values. */
export type AlternatingDifference = { difference: number; low: number; high: number };

/**
 * The difference between two sides that come by turns (first, second, first, second …, or the other way round), from one value
 * a turn: a t interval that holds a share `inside` (0 to 1) on neighbouring differences. `startsSecond`: the first value is the second side's.
 *
 * Each difference of two neighbours, second side less first, is the effect plus or minus one step of a trend (practice, tiring). Pairs that
 * share no turn are independent, but all lean the same way on the trend. Neighbours that overlap do not lean, but share a turn's error
 * and so agree too well: taken for independent they would find differences that are not there. So all n − 1 are taken, and weighed by
 * how they hang together, which is known, since each turn's error is in two of them. That is the same as least squares of the
 * n values on side and order (any text on generalised least squares), where a trend in a straight line is taken out whole and n − 3
 * degrees of freedom are left; it is what is worked out here. Exact for turns whose errors are independent, normal and alike.
 *
 * `leastVariance`: the variance of one turn's error is never taken for less than this, for values that come in steps. Throws a RangeError under four values.
 */
export function alternatingDifference(
  values: readonly number[],
  startsSecond: boolean,
  inside: number,
  leastVariance = 0,
): AlternatingDifference {
  const degreesOfFreedom = values.length - 3;
  if (degreesOfFreedom < 1) throw new RangeError(`${values.length} turns, four are needed`);
  const side = centred(values.map((_, turn) => ((turn % 2 === 1) === startsSecond ? 0 : 1)));
  const order = centred(values.map((_, turn) => turn));
  const value = centred(values);
  const [sideSide, orderOrder, sideOrder] = [dot(side, side), dot(order, order), dot(side, order)];
  const [sideValue, orderValue] = [dot(side, value), dot(order, value)];
  const determinant = sideSide * orderOrder - sideOrder ** 2;
  const difference = (orderOrder * sideValue - sideOrder * orderValue) / determinant;
  const trend = (sideSide * orderValue - sideOrder * sideValue) / determinant;
  const left = value.map((one, turn) => one - difference * (side[turn] ?? 0) - trend * (order[turn] ?? 0));
  const variance = Math.max(leastVariance, dot(left, left) / degreesOfFreedom);
  const halfWidth = studentT(degreesOfFreedom, inside) * Math.sqrt((variance * orderOrder) / determinant);
  return { difference, low: difference - halfWidth, high: difference + halfWidth };
}

function centred(values: readonly number[]): number[] {
  const middle = mean(values) ?? 0;
  return values.map((value) => value - middle);
}

function dot(one: readonly number[], other: readonly number[]): number {
  return one.reduce((sum, value, index) => sum + value * (other[index] ?? 0), 0);
}
