/** Sines, cosines and the reversed order of one transform length; made once, used for every row. */
export interface FourierPlan {
  readonly size: number;
  readonly cosines: Float32Array;
  readonly sines: Float32Array;
  readonly reversed: Uint32Array;
}

/** Complex values on a grid, row by row: the real parts and the imaginary parts. */
export interface ComplexGrid {
  readonly width: number;
  readonly height: number;
  readonly re: Float32Array;
  readonly im: Float32Array;
}

const plans = new Map<number, FourierPlan>();

/** The plan for a length. @throws {RangeError} unless the length is a power of two. */
export function fourierPlan(size: number): FourierPlan {
  const kept = plans.get(size);
  if (kept !== undefined) return kept;
  if (size < 1 || !Number.isInteger(Math.log2(size))) throw new RangeError(`${size} is no power of two`);
  const bits = Math.log2(size);
  const reversed = new Uint32Array(size);
  for (let i = 1; i < size; i++) reversed[i] = ((reversed[i >> 1] ?? 0) >> 1) | ((i & 1) << (bits - 1));
  const turn = (i: number): number => (-2 * Math.PI * i) / size;
  const plan = { size, reversed, cosines: Float32Array.from({ length: size / 2 }, (_, i) => Math.cos(turn(i))), sines: Float32Array.from({ length: size / 2 }, (_, i) => Math.sin(turn(i))) };
  plans.set(size, plan);
  return plan;
}

/** The least power of two that is not under the number. */
export function powerOfTwoFrom(count: number): number {
  return 2 ** Math.ceil(Math.log2(Math.max(count, 1)));
}

/**
 * Discrete Fourier transform of the grid, in place, unscaled, exp(-2 pi i k n / N) (Cooley and Tukey 1965). Width and height
 * must be powers of two. Rows from `filledRows` on are known to hold nothing but zeros.
 */
export function transform(grid: ComplexGrid, filledRows = grid.height): void {
  const across = fourierPlan(grid.width);
  for (let row = 0; row < filledRows; row++) transformRow(grid.re, grid.im, row * grid.width, across);
  transformColumns(grid, fourierPlan(grid.height));
}

/** The way back, in place and scaled: a transform of the grid with real and imaginary parts changed round. */
export function transformBack(grid: ComplexGrid): void {
  transform({ ...grid, re: grid.im, im: grid.re });
  const share = 1 / (grid.width * grid.height);
  for (let i = 0; i < grid.re.length; i++) {
    grid.re[i] = (grid.re[i] ?? 0) * share;
    grid.im[i] = (grid.im[i] ?? 0) * share;
  }
}

/** One row of `plan.size` values from `from` on, in place. */
export function transformRow(re: Float32Array, im: Float32Array, from: number, plan: FourierPlan): void {
  const { size, reversed, cosines, sines } = plan;
  for (let i = 0; i < size; i++) {
    const other = reversed[i] ?? 0;
    if (other > i) swap(re, im, from + i, from + other);
  }
  for (let half = 1; half < size; half *= 2) {
    const step = size / (2 * half);
    for (let block = from; block < from + size; block += 2 * half) {
      for (let k = 0; k < half; k++) butterfly(re, im, block + k, block + k + half, cosines[k * step] ?? 0, sines[k * step] ?? 0);
    }
  }
}

function swap(re: Float32Array, im: Float32Array, a: number, b: number): void {
  const keptRe = re[a] ?? 0;
  const keptIm = im[a] ?? 0;
  re[a] = re[b] ?? 0;
  im[a] = im[b] ?? 0;
  re[b] = keptRe;
  im[b] = keptIm;
}

function butterfly(re: Float32Array, im: Float32Array, a: number, b: number, cos: number, sin: number): void {
  const bRe = re[b] ?? 0;
  const bIm = im[b] ?? 0;
  const turnedRe = bRe * cos - bIm * sin;
  const turnedIm = bRe * sin + bIm * cos;
  const aRe = re[a] ?? 0;
  const aIm = im[a] ?? 0;
  re[a] = aRe + turnedRe;
  im[a] = aIm + turnedIm;
  re[b] = aRe - turnedRe;
  im[b] = aIm - turnedIm;
}

/** All columns at once, a whole row to each butterfly: going down columns one by one would miss the cache at every step. */
function transformColumns({ width, re, im }: ComplexGrid, { size, reversed, cosines, sines }: FourierPlan): void {
  for (let row = 0; row < size; row++) {
    const other = reversed[row] ?? 0;
    if (other > row) for (let x = 0; x < width; x++) swap(re, im, row * width + x, other * width + x);
  }
  for (let half = 1; half < size; half *= 2) {
    const step = size / (2 * half);
    for (let block = 0; block < size; block += 2 * half) {
      for (let k = 0; k < half; k++) {
        const a = (block + k) * width;
        const b = a + half * width;
        const cos = cosines[k * step] ?? 0;
        const sin = sines[k * step] ?? 0;
        for (let x = 0; x < width; x++) butterfly(re, im, a + x, b + x, cos, sin);
      }
    }
  }
}
