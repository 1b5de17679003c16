import { medianInPlace, quantile } from '../pixels/order.ts';

/** second = gain * first + offset, in codes, and the share of values that agree within 3 codes. */
export interface GainFit {
  readonly gain: number;
  readonly offset: number;
  readonly agreeing: number;
  /** Codes from the darkest to the brightest twentieth of the first values. */
  readonly tonalRange: number;
}

/** Values outside are clipped or buried, 8-bit codes. */
const [DARKEST, BRIGHTEST] = [3, 250];
const BIWEIGHT = 4.685;
const AGREES_WITHIN = 3;
const ITERATIONS = 15;

/**
 * Gain and offset between two pictures of the same thing: Deming's line (both sides carry noise; Deming 1943) under the
 * biweight (Holland and Welsch 1977), so that what stands elsewhere in the second has no say. Undefined with too few values.
 */
export function fitGain(first: ArrayLike<number>, second: ArrayLike<number>): GainFit | undefined {
  const { x, y, count } = usable(first, second);
  if (count < 100) return undefined;
  let gain = 1;
  let offset = medianOf(count, (i) => (y[i] ?? 0) - (x[i] ?? 0));
  for (let round = 0; round < ITERATIONS; round++) {
    const [slope, shift] = [gain, offset];
    const cut = BIWEIGHT * 1.4826 * Math.max(0.02, medianOf(count, (i) => Math.abs((y[i] ?? 0) - slope * (x[i] ?? 0) - shift)));
    const line = demingLine(x, y, count, (away) => (Math.abs(away) < cut ? (1 - (away / cut) ** 2) ** 2 : 0), { gain, offset });
    if (line === undefined) break;
    const still = Math.abs(line.gain - gain) < 1e-6 && Math.abs(line.offset - offset) < 1e-4;
    ({ gain, offset } = line);
    if (still) break;
  }
  let agreeing = 0;
  for (let i = 0; i < count; i++) if (Math.abs((y[i] ?? 0) - gain * (x[i] ?? 0) - offset) < AGREES_WITHIN) agreeing++;
  const seen = x.subarray(0, count);
  return { gain, offset, agreeing: agreeing / count, tonalRange: quantile(seen, 0.95) - quantile(seen, 0.05) };
}

function usable(first: ArrayLike<number>, second: ArrayLike<number>): { readonly x: Float32Array; readonly y: Float32Array; readonly count: number } {
  const length = Math.min(first.length, second.length);
  const [x, y] = [new Float32Array(length), new Float32Array(length)];
  let count = 0;
  for (let i = 0; i < length; i++) {
    const [a, b] = [first[i] ?? 0, second[i] ?? 0];
    if (!(a >= DARKEST && a <= BRIGHTEST && b >= DARKEST && b <= BRIGHTEST)) continue;
    x[count] = a;
    y[count++] = b;
  }
  return { x, y, count };
}

function medianOf(count: number, value: (i: number) => number): number {
  const values = new Float32Array(count);
  for (let i = 0; i < count; i++) values[i] = value(i);
  return medianInPlace(values, count);
}

interface Line {
  readonly gain: number;
  readonly offset: number;
}

function demingLine(x: Float32Array, y: Float32Array, count: number, weightOf: (away: number) => number, { gain, offset }: Line): Line | undefined {
  let [weights, sumX, sumY, xx, xy, yy] = [0, 0, 0, 0, 0, 0];
  for (let i = 0; i < count; i++) {
    const [a, b] = [x[i] ?? 0, y[i] ?? 0];
    const weight = weightOf(b - gain * a - offset);
    weights += weight;
    sumX += weight * a;
    sumY += weight * b;
    xx += weight * a * a;
    xy += weight * a * b;
    yy += weight * b * b;
  }
  const [meanX, meanY] = [sumX / weights, sumY / weights];
  const varX = xx / weights - meanX * meanX;
  const varY = yy / weights - meanY * meanY;
  const both = xy / weights - meanX * meanY;
  if (!(both > 1e-6)) return undefined;
  const slope = (varY - varX + Math.sqrt((varY - varX) ** 2 + 4 * both * both)) / (2 * both);
  return { gain: slope, offset: meanY - slope * meanX };
}
