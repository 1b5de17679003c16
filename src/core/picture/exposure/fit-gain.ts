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
/** A step of fewer codes ends the fit: a thousandth is far below what noise leaves open. */
const AT_REST = 1e-3;

/**
 * Gain and offset between two pictures of the same thing: Deming's line (both sides carry noise; Deming 1943) under the
 * biweight (Holland and Welsch 1977), so that what stands elsewhere in the second has no say. Undefined with too few values.
 */
export function fitGain(first: ArrayLike<number>, second: ArrayLike<number>): GainFit | undefined {
  const { x, y, count } = usable(first, second);
  if (count < 100) return undefined;
  const away = new Float32Array(count);
  let [gain, offset] = [1, medianAway({ x, y, count }, 1, 0, away, false)];
  for (let round = 0; round < ITERATIONS; round++) {
    const cut = BIWEIGHT * 1.4826 * Math.max(0.02, medianAway({ x, y, count }, gain, offset, away, true));
    const line = demingLine({ x, y, count }, cut, { gain, offset });
    if (line === undefined) break;
    const still = Math.abs(line.gain - gain) < AT_REST / 100 && Math.abs(line.offset - offset) < AT_REST;
    ({ gain, offset } = line);
    if (still) break;
  }
  let agreeing = 0;
  for (let i = 0; i < count; i++) if (Math.abs((y[i] ?? 0) - gain * (x[i] ?? 0) - offset) < AGREES_WITHIN) agreeing++;
  const seen = x.subarray(0, count);
  return { gain, offset, agreeing: agreeing / count, tonalRange: quantile(seen, 0.95) - quantile(seen, 0.05) };
}

/** Values that can be compared, the first `count` of each list. */
interface Usable {
  readonly x: Float32Array;
  readonly y: Float32Array;
  readonly count: number;
}

function usable(first: ArrayLike<number>, second: ArrayLike<number>): Usable {
  const length = Math.min(first.length, second.length);
  const [x, y] = [new Float32Array(length), new Float32Array(length)];
  let count = 0;
  for (let i = 0; i < length; i++) {
    const a = first[i] ?? 0;
    const b = second[i] ?? 0;
    if (!(a >= DARKEST && a <= BRIGHTEST && b >= DARKEST && b <= BRIGHTEST)) continue;
    x[count] = a;
    y[count++] = b;
  }
  return { x, y, count };
}

/** The middle of what the second values are off the line by, or, `size` true, of how far; `away` is written over. */
function medianAway({ x, y, count }: Usable, gain: number, offset: number, away: Float32Array, size: boolean): number {
  for (let i = 0; i < count; i++) {
    const off = (y[i] ?? 0) - gain * (x[i] ?? 0) - offset;
    away[i] = size ? Math.abs(off) : off;
  }
  return medianInPlace(away, count);
}

interface Line {
  readonly gain: number;
  readonly offset: number;
}

function demingLine({ x, y, count }: Usable, cut: number, { gain, offset }: Line): Line | undefined {
  let [weights, sumX, sumY, xx, xy, yy] = [0, 0, 0, 0, 0, 0];
  for (let i = 0; i < count; i++) {
    const a = x[i] ?? 0;
    const b = y[i] ?? 0;
    const share = (b - gain * a - offset) / cut;
    const inside = 1 - share * share;
    if (!(inside > 0)) continue;
    const weight = inside * inside;
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
