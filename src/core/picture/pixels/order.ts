/**
 * The value at a share of the way through sorted order: 0 the least, .5 the median, 1 the greatest. The list is copied,
 * not sorted (Hoare's quickselect), so a frame costs one walk or two. NaN for an empty list.
 */
export function quantile(values: ArrayLike<number>, share: number): number {
  const copy = Float32Array.from(values);
  if (copy.length === 0) return Number.NaN;
  const rank = Math.min(Math.max(share, 0), 1) * (copy.length - 1);
  return selectInPlace(copy, copy.length, Math.round(rank));
}

/** The middle value; of an even count, the mean of the two in the middle. NaN for an empty list. */
export function median(values: ArrayLike<number>): number {
  const copy = Float32Array.from(values);
  return medianInPlace(copy, copy.length);
}

/** The median of the first `count` values, which are reordered. */
export function medianInPlace(values: Float32Array, count: number): number {
  if (count === 0) return Number.NaN;
  const half = count >> 1;
  const upper = selectInPlace(values, count, half);
  if (count % 2 === 1) return upper;
  let lower = values[0] ?? 0;
  for (let i = 1; i < half; i++) lower = Math.max(lower, values[i] ?? 0);
  return (lower + upper) / 2;
}

/** Median distance from the median, times 1.4826: the standard deviation, were the values Gaussian. */
export function spread(values: ArrayLike<number>, middle = median(values)): number {
  const away = Float32Array.from(values, (value) => Math.abs(value - middle));
  return 1.4826 * medianInPlace(away, away.length);
}

/** The `rank`-th least (from 0) of the first `count` values; smaller ones end up before it, greater ones after it. */
export function selectInPlace(values: Float32Array, count: number, rank: number): number {
  let low = 0;
  let high = count - 1;
  while (low < high) {
    const pivot = values[(low + high) >> 1] ?? 0;
    let left = low;
    let right = high;
    while (left <= right) {
      while ((values[left] ?? 0) < pivot) left++;
      while ((values[right] ?? 0) > pivot) right--;
      if (left > right) break;
      const kept = values[left] ?? 0;
      values[left++] = values[right] ?? 0;
      values[right--] = kept;
    }
    if (rank <= right) high = right;
    else if (rank >= left) low = left;
    else break;
  }
  return values[rank] ?? Number.NaN;
}
