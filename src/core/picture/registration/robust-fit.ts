import type { LumaFrame } from '../frame.ts';
import { gaussianBlur } from '../pixels/blur.ts';
import { gradient } from '../pixels/gradient.ts';
import { medianInPlace } from '../pixels/order.ts';
import type { LinearSimilarity } from './similarity.ts';
import { solveEquations } from './solve.ts';

/** A pair of frames blurred alike, with the slopes of the first, ready to be fitted from several starts. */
export interface FitPair {
  readonly width: number;
  readonly height: number;
  readonly first: Float32Array;
  readonly second: Float32Array;
  readonly across: Float32Array;
  readonly down: Float32Array;
}

/** Where a fit stands: second(similarity(p)) = gain * first(p) + offset. */
export interface Fit {
  readonly move: LinearSimilarity;
  readonly gain: number;
  readonly offset: number;
}

/** A fit that came to rest, and the share of pixels that agree with it. */
export interface JudgedFit extends Fit {
  readonly agreeing: number;
}

export interface FitOptions {
  /** Every how many pixels are looked at, each way. */
  readonly stride: number;
  readonly iterations: number;
  /** How far a pixel may be off and still agree, codes. */
  readonly tolerance: number;
  /** True for the last fit: between pixels by a cubic (Keys 1981), whose blur does not pull the answer as the bilinear one does, by up to .04 px. */
  readonly fine?: boolean;
}

/** Pixels this near the edge are left out: blurs and lenses behave differently there. */
const EDGE = 8;
/** The biweight's cut-off in spreads: 95 % as good as least squares on Gaussian noise (Holland and Welsch 1977). */
const BIWEIGHT = 4.685;
/** A step that moves no corner this far ends the fit, px. */
const AT_REST = 0.0004;

/** Blurs both frames (1.2 px against aliasing, more to catch large moves) and takes the slopes of the first. */
export function fitPair(first: LumaFrame, second: LumaFrame, blur: number): FitPair {
  const blurred = gaussianBlur(first, blur);
  return { width: first.width, height: first.height, first: blurred.values, second: gaussianBlur(second, blur).values, ...gradient(blurred) };
}

/**
 * Robust Gauss-Newton fit of shift, scale, turn, gain and offset (Lucas and Kanade 1981; slopes of the template only, Baker
 * and Matthews 2004; biweight, Holland and Welsch 1977): people who stand elsewhere in the second pass lose their say.
 */
export function fitRobustly(pair: FitPair, start: Fit, options: FitOptions): JudgedFit {
  const samples = samplesOf(pair, options.stride);
  let fit = start;
  for (let round = 0; round < options.iterations; round++) {
    const { residuals, count } = residualsOf(pair, fit, samples, options.fine === true);
    const step = stepFrom(pair, fit, samples, residuals, count);
    if (step === undefined) break;
    fit = step.fit;
    if (step.moved < AT_REST) break;
  }
  return { ...fit, agreeing: agreement(pair, fit, samples, options) };
}

/** Places looked at, as indices into the frame; every second row is shifted so that columns take turns. */
function samplesOf({ width, height }: FitPair, stride: number): Uint32Array {
  const places: number[] = [];
  const edge = Math.min(EDGE, Math.floor(Math.min(width, height) / 8));
  let odd = 0;
  for (let y = edge; y < height - edge; y += stride) {
    for (let x = edge + odd; x < width - edge; x += stride) places.push(y * width + x);
    odd = stride > 1 ? (odd + 1) % stride : 0;
  }
  return Uint32Array.from(places);
}

/** What each place is off by; NaN where the move leads out of the frame. `count` is of those within. */
function residualsOf(pair: FitPair, fit: Fit, samples: Uint32Array, fine: boolean): { readonly residuals: Float32Array; readonly count: number } {
  const { width, height, first, second } = pair;
  const { dx, dy, a, b } = fit.move;
  const [middleX, middleY] = [(width - 1) / 2, (height - 1) / 2];
  const residuals = new Float32Array(samples.length);
  let count = 0;
  for (let i = 0; i < samples.length; i++) {
    const at = samples[i] ?? 0;
    const row = Math.floor(at / width);
    const awayX = at - row * width - middleX;
    const awayY = row - middleY;
    const x = middleX + dx + a * awayX - b * awayY;
    const y = middleY + dy + b * awayX + a * awayY;
    if (!(x >= 1 && y >= 1 && x < width - 2 && y < height - 2)) {
      residuals[i] = Number.NaN;
      continue;
    }
    const found = fine ? cubicAt(second, width, x, y) : linearAt(second, width, x, y);
    residuals[i] = found - fit.gain * (first[at] ?? 0) - fit.offset;
    count++;
  }
  return { residuals, count };
}

function linearAt(values: Float32Array, width: number, x: number, y: number): number {
  const left = Math.floor(x);
  const top = Math.floor(y);
  const right = x - left;
  const from = top * width + left;
  const upper = (values[from] ?? 0) + right * ((values[from + 1] ?? 0) - (values[from] ?? 0));
  const lower = (values[from + width] ?? 0) + right * ((values[from + width + 1] ?? 0) - (values[from + width] ?? 0));
  return upper + (y - top) * (lower - upper);
}

function cubicAt(values: Float32Array, width: number, x: number, y: number): number {
  const left = Math.floor(x);
  const top = Math.floor(y);
  const from = (top - 1) * width + left - 1;
  const right = x - left;
  return cubic(cubicRow(values, from, right), cubicRow(values, from + width, right), cubicRow(values, from + 2 * width, right), cubicRow(values, from + 3 * width, right), y - top);
}

function cubicRow(values: Float32Array, from: number, share: number): number {
  return cubic(values[from] ?? 0, values[from + 1] ?? 0, values[from + 2] ?? 0, values[from + 3] ?? 0, share);
}

/** Cubic convolution with a = -1/2 between `b` and `c`. */
function cubic(a: number, b: number, c: number, d: number, share: number): number {
  return b + 0.5 * share * (c - a + share * (2 * a - 5 * b + 4 * c - d + share * (3 * (b - c) + d - a)));
}

function stepFrom(pair: FitPair, fit: Fit, samples: Uint32Array, residuals: Float32Array, count: number): { readonly fit: Fit; readonly moved: number } | undefined {
  // A third of the frame must overlap: less is no picture of the same place.
  if (count < samples.length / 3) return undefined;
  const cut = BIWEIGHT * Math.max(spreadOf(residuals, count), 0.01);
  const size = Math.max(pair.width, pair.height) / 2;
  const { matrix, right } = normalEquations(pair, fit, samples, residuals, cut, size);
  const step = solveEquations(matrix, right);
  if (step === undefined) return undefined;
  const [dx = 0, dy = 0, a = 0, b = 0, gain = 0, offset = 0] = step;
  const { move } = fit;
  const next = { move: { dx: move.dx - dx, dy: move.dy - dy, a: move.a - a / size, b: move.b - b / size }, gain: Math.max(0.05, fit.gain - gain / 64), offset: fit.offset - offset };
  return { fit: next, moved: Math.abs(dx) + Math.abs(dy) + Math.abs(a) + Math.abs(b) };
}

function spreadOf(residuals: Float32Array, count: number): number {
  const away = new Float32Array(count);
  let filled = 0;
  for (const residual of residuals) if (residual === residual) away[filled++] = Math.abs(residual);
  return 1.4826 * medianInPlace(away, count);
}

/** Sums of the six unknowns' slopes, weighted; scale and turn are counted in px at the long edge, gain in 64ths, so that all are of one size. */
function normalEquations(pair: FitPair, fit: Fit, samples: Uint32Array, residuals: Float32Array, cut: number, size: number): { readonly matrix: Float64Array; readonly right: Float64Array } {
  const { width, height, first, across, down } = pair;
  const [middleX, middleY] = [(width - 1) / 2, (height - 1) / 2];
  const upper = new Float64Array(36);
  const right = new Float64Array(6);
  const slopes = new Float64Array(6);
  for (let i = 0; i < samples.length; i++) {
    const residual = residuals[i] ?? 0;
    const share = residual / cut;
    if (!(share * share < 1)) continue;
    const weight = (1 - share * share) ** 2;
    const at = samples[i] ?? 0;
    const row = Math.floor(at / width);
    const awayX = (at - row * width - middleX) / size;
    const awayY = (row - middleY) / size;
    const slopeX = fit.gain * (across[at] ?? 0);
    const slopeY = fit.gain * (down[at] ?? 0);
    slopes[0] = slopeX;
    slopes[1] = slopeY;
    slopes[2] = slopeX * awayX + slopeY * awayY;
    slopes[3] = slopeY * awayX - slopeX * awayY;
    slopes[4] = -(first[at] ?? 0) / 64;
    slopes[5] = -1;
    for (let j = 0; j < 6; j++) {
      const weighted = weight * (slopes[j] ?? 0);
      right[j] = (right[j] ?? 0) + weighted * residual;
      for (let k = j; k < 6; k++) upper[j * 6 + k] = (upper[j * 6 + k] ?? 0) + weighted * (slopes[k] ?? 0);
    }
  }
  for (let j = 0; j < 6; j++) for (let k = 0; k < j; k++) upper[j * 6 + k] = upper[k * 6 + j] ?? 0;
  return { matrix: upper, right };
}

function agreement(pair: FitPair, fit: Fit, samples: Uint32Array, { tolerance, fine }: FitOptions): number {
  const { residuals, count } = residualsOf(pair, fit, samples, fine === true);
  let agreeing = 0;
  for (const residual of residuals) if (Math.abs(residual) < tolerance) agreeing++;
  return count < samples.length / 3 ? 0 : agreeing / count;
}
