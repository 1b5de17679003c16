/**
 * Lines from the top row to the bottom row that step at most one pixel aside from row to row, found by dynamic
 * programming: Efros & Freeman, "Image quilting for texture synthesis and transfer", 2001 (E = e + least of the three above).
 */

/** A plane of numbers, row by row from the top left. */
export interface Plane {
  readonly width: number;
  readonly height: number;
  readonly values: ArrayLike<number>;
}

/** A line: for each row its column. */
export interface Seam {
  readonly columns: Int32Array;
  /** The cost summed along it. */
  readonly value: number;
}

/** Costs of the cheapest way from the top to each pixel. A pixel of infinite cost is closed; a step aside costs `aside`. */
export function cumulativeCost({ width, height, values }: Plane, aside = 0): Float64Array {
  const sums = Float64Array.from(values);
  for (let y = 1; y < height; y++) {
    const above = (y - 1) * width;
    for (let x = 0; x < width; x++) {
      const beside = Math.min(at(sums, above, x - 1, width, Infinity), at(sums, above, x + 1, width, Infinity)) + aside;
      sums[y * width + x] = (sums[y * width + x] ?? 0) + Math.min(beside, sums[above + x] ?? 0);
    }
  }
  return sums;
}

/** The line of least summed cost; of equal ones the leftmost at the bottom. Undefined when every way is closed. */
export function cheapestSeam(plane: Plane, aside = 0): Seam | undefined {
  const { width, height } = plane;
  const sums = cumulativeCost(plane, aside);
  const last = (height - 1) * width;
  let x = 0;
  for (let i = 1; i < width; i++) if ((sums[last + i] ?? Infinity) < (sums[last + x] ?? Infinity)) x = i;
  const value = sums[last + x] ?? Infinity;
  if (value === Infinity) return undefined;
  const columns = new Int32Array(height);
  columns[height - 1] = x;
  for (let y = height - 2; y >= 0; y--) {
    x = bestAbove(sums, y * width, x, width, aside);
    columns[y] = x;
  }
  return { columns, value };
}

/** The column one row up that the way came from; straight up where that is as good. */
function bestAbove(sums: Float64Array, row: number, x: number, width: number, aside: number): number {
  let best = x;
  let least = sums[row + x] ?? Infinity;
  for (const side of [x - 1, x + 1]) {
    const sum = at(sums, row, side, width, Infinity) + aside;
    if (sum < least) [best, least] = [side, sum];
  }
  return best;
}

/** For each pixel, the best clearance that a way from the top can keep up to there. */
export function bottleneck({ width, height, values }: Plane): Float64Array {
  const best = Float64Array.from(values);
  for (let y = 1; y < height; y++) {
    const above = (y - 1) * width;
    for (let x = 0; x < width; x++) {
      const reach = Math.max(at(best, above, x - 1, width, 0), best[above + x] ?? 0, at(best, above, x + 1, width, 0));
      best[y * width + x] = Math.min(best[y * width + x] ?? 0, reach);
    }
  }
  return best;
}

/** The best clearance any line can keep on its whole way: 0 means there is none. */
export function widestClearance(plane: Plane): number {
  const best = bottleneck(plane);
  let widest = 0;
  for (let x = 0; x < plane.width; x++) widest = Math.max(widest, best[(plane.height - 1) * plane.width + x] ?? 0);
  return widest;
}

function at(values: Float64Array, row: number, x: number, width: number, outside: number): number {
  return x < 0 || x >= width ? outside : (values[row + x] ?? outside);
}
