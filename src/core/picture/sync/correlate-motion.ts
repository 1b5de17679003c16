/** How the picture moved from each frame to the next, px of the proxy. */
export interface MotionTrack {
  readonly dx: ArrayLike<number>;
  readonly dy: ArrayLike<number>;
}

/** Speeds after smoothing. */
export interface SmoothTrack {
  readonly dx: Float64Array;
  readonly dy: Float64Array;
}

/** The best offset at one speed ratio: swapped frame = offset + warp x lead frame. `likeness` is -1..1. */
export interface MotionFit {
  readonly offset: number;
  readonly warp: number;
  readonly likeness: number;
}

const SMOOTH_FRAMES = 2;
/** Frames each side of the peak through which a parabola is laid. */
const AROUND = 3;

/** A track smoothed by a Gaussian of 2 frames; the ends are repeated. */
export function smoothed({ dx, dy }: MotionTrack): SmoothTrack {
  return { dx: smooth(dx), dy: smooth(dy) };
}

function smooth(values: ArrayLike<number>): Float64Array {
  const reach = 3 * SMOOTH_FRAMES;
  const weights = Array.from({ length: 2 * reach + 1 }, (_, i) => Math.exp(-((i - reach) ** 2) / (2 * SMOOTH_FRAMES ** 2)));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return Float64Array.from({ length: values.length }, (_, t) =>
    weights.reduce((sum, weight, i) => sum + weight * (values[Math.min(Math.max(t + i - reach, 0), values.length - 1)] ?? 0), 0) / total);
}

/**
 * Normalised correlation of the speeds, their means taken away, at every offset that leaves `overlap` frames; a parabola
 * through the values around the best gives the fraction. Undefined when no offset is in reach.
 */
export function correlateMotion(lead: SmoothTrack, swapped: SmoothTrack, warp: number, overlap: number, reach: { readonly middle: number; readonly window: number }): MotionFit | undefined {
  const warped = warp === 1 ? swapped : { dx: stretched(swapped.dx, warp), dy: stretched(swapped.dy, warp) };
  const from = Math.ceil(Math.max(overlap - lead.dx.length, (reach.middle - reach.window) / warp));
  const to = Math.floor(Math.min(warped.dx.length - overlap, (reach.middle + reach.window) / warp));
  if (from > to) return undefined;
  const fits = Float64Array.from({ length: to - from + 1 }, (_, i) => likeness(lead, warped, from + i));
  let best = 0;
  for (let i = 1; i < fits.length; i++) if ((fits[i] ?? 0) > (fits[best] ?? 0)) best = i;
  return { offset: (from + best + vertex(fits, best)) * warp, warp, likeness: fits[best] ?? 0 };
}

/** The track as it would be had the move run at the lead's speed: sample t is the original at warp x t. */
function stretched(values: Float64Array, warp: number): Float64Array {
  return Float64Array.from({ length: Math.floor((values.length - 1) / warp) + 1 }, (_, t) => {
    const at = t * warp;
    const whole = Math.floor(at);
    return (values[whole] ?? 0) * (1 - at + whole) + (values[whole + 1] ?? values[whole] ?? 0) * (at - whole);
  });
}

function likeness(lead: SmoothTrack, other: SmoothTrack, lag: number): number {
  const start = Math.max(0, -lag);
  const end = Math.min(lead.dx.length, other.dx.length - lag);
  let [ab, aa, bb] = [0, 0, 0];
  for (const axis of ['dx', 'dy'] as const) {
    let [meanA, meanB] = [0, 0];
    for (let t = start; t < end; t++) [meanA, meanB] = [meanA + (lead[axis][t] ?? 0), meanB + (other[axis][t + lag] ?? 0)];
    [meanA, meanB] = [meanA / (end - start), meanB / (end - start)];
    for (let t = start; t < end; t++) {
      const [a, b] = [(lead[axis][t] ?? 0) - meanA, (other[axis][t + lag] ?? 0) - meanB];
      [ab, aa, bb] = [ab + a * b, aa + a * a, bb + b * b];
    }
  }
  return aa > 0 && bb > 0 ? ab / Math.sqrt(aa * bb) : 0;
}

/** Where the least-squares parabola through the values around `at` is highest, counted from it; 0 at the ends. */
function vertex(values: Float64Array, at: number): number {
  if (at < AROUND || at + AROUND >= values.length) return 0;
  let [sumY, sumX2Y, sumXY] = [0, 0, 0];
  for (let x = -AROUND; x <= AROUND; x++) {
    const y = values[at + x] ?? 0;
    [sumY, sumXY, sumX2Y] = [sumY + y, sumXY + x * y, sumX2Y + x * x * y];
  }
  const n = 2 * AROUND + 1;
  const [x2, x4] = [28, 196];
  const bend = (n * sumX2Y - x2 * sumY) / (n * x4 - x2 * x2);
  return bend < 0 ? Math.max(-1, Math.min(1, -sumXY / x2 / (2 * bend))) : 0;
}
