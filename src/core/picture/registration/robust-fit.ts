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
  const room = { residuals: new Float32Array(samples.at.length), away: new Float32Array(samples.at.length) };
  const fine = options.fine === true;
  let fit = start;
  let count = takeResiduals(pair, fit, samples, fine, room.residuals);
  for (let round = 0; round < options.iterations; round++) {
    const step = stepFrom(pair, fit, samples, room, count);
    if (step === undefined) break;
    fit = step.fit;
    count = takeResiduals(pair, fit, samples, fine, room.residuals);
    if (step.moved < AT_REST) break;
  }
  return { ...fit, agreeing: agreement(room.residuals, count, options.tolerance) };
}

/** Places looked at: indices into the frame, and their columns and rows counted from its middle. */
interface Samples {
  readonly at: Uint32Array;
  readonly x: Float32Array;
  readonly y: Float32Array;
}

/** Written over at every fit, one value a sample. */
interface Room {
  readonly residuals: Float32Array;
  readonly away: Float32Array;
}

const kept = new Map<string, Samples>();
/** So many rasters and strides are in use at once; a day of odd ones must not fill the memory. */
const MOST_KEPT = 32;

/** Places looked at; every second row is shifted so that columns take turns. Made once for a raster and stride. */
function samplesOf({ width, height }: FitPair, stride: number): Samples {
  const key = `${width} ${height} ${stride}`;
  const known = kept.get(key);
  if (known !== undefined) return known;
  const places: number[] = [];
  const edge = Math.min(EDGE, Math.floor(Math.min(width, height) / 8));
  let odd = 0;
  for (let y = edge; y < height - edge; y += stride) {
    for (let x = edge + odd; x < width - edge; x += stride) places.push(y * width + x);
    odd = stride > 1 ? (odd + 1) % stride : 0;
  }
  const samples = { at: Uint32Array.from(places), x: Float32Array.from(places, (at) => (at % width) - (width - 1) / 2), y: Float32Array.from(places, (at) => Math.floor(at / width) - (height - 1) / 2) };
  if (kept.size >= MOST_KEPT) kept.clear();
  kept.set(key, samples);
  return samples;
}

/** Fills in what each place is off by, NaN where the move leads out of the frame, and says how many lie within. */
function takeResiduals({ width, height, first, second }: FitPair, { move, gain, offset }: Fit, samples: Samples, fine: boolean, residuals: Float32Array): number {
  const { dx, dy, a, b } = move;
  const [middleX, middleY] = [(width - 1) / 2 + dx, (height - 1) / 2 + dy];
  let count = 0;
  for (let i = 0; i < residuals.length; i++) {
    const awayX = samples.x[i] ?? 0;
    const awayY = samples.y[i] ?? 0;
    const x = middleX + a * awayX - b * awayY;
    const y = middleY + b * awayX + a * awayY;
    if (!(x >= 1 && y >= 1 && x < width - 2 && y < height - 2)) {
      residuals[i] = Number.NaN;
      continue;
    }
    const found = fine ? cubicAt(second, width, x, y) : linearAt(second, width, x, y);
    residuals[i] = found - gain * (first[samples.at[i] ?? 0] ?? 0) - offset;
    count++;
  }
  return count;
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

function stepFrom(pair: FitPair, fit: Fit, samples: Samples, room: Room, count: number): { readonly fit: Fit; readonly moved: number } | undefined {
  // A third of the frame must overlap: less is no picture of the same place.
  if (count < samples.at.length / 3) return undefined;
  const cut = BIWEIGHT * Math.max(spreadOf(room, count), 0.01);
  const size = Math.max(pair.width, pair.height) / 2;
  const { matrix, right } = normalEquations(pair, fit.gain, samples, room.residuals, cut, size);
  const step = solveEquations(matrix, right);
  if (step === undefined) return undefined;
  const [dx = 0, dy = 0, a = 0, b = 0, gain = 0, offset = 0] = step;
  const { move } = fit;
  const next = { move: { dx: move.dx - dx, dy: move.dy - dy, a: move.a - a / size, b: move.b - b / size }, gain: Math.max(0.05, fit.gain - gain / 64), offset: fit.offset - offset };
  return { fit: next, moved: Math.abs(dx) + Math.abs(dy) + Math.abs(a) + Math.abs(b) };
}

function spreadOf({ residuals, away }: Room, count: number): number {
  let filled = 0;
  for (let i = 0; i < residuals.length; i++) {
    const residual = residuals[i] ?? 0;
    if (residual === residual) away[filled++] = Math.abs(residual);
  }
  return 1.4826 * medianInPlace(away, count);
}

/** Sums of the six unknowns' slopes, weighted; scale and turn are counted in px at the long edge, gain in 64ths, so that all are of one size. */
function normalEquations(pair: FitPair, gain: number, samples: Samples, residuals: Float32Array, cut: number, size: number): { readonly matrix: Float64Array; readonly right: Float64Array } {
  const sums = new Float64Array(27);
  for (let from = 0; from < residuals.length; from += AT_ONCE) addEquations(sums, pair, gain, samples, residuals, cut, size, from, Math.min(from + AT_ONCE, residuals.length));
  const matrix = new Float64Array(36);
  for (let row = 0, next = 0; row < 6; row++) for (let column = row; column < 6; column++, next++) matrix[6 * row + column] = matrix[6 * column + row] = sums[next] ?? 0;
  return { matrix, right: sums.slice(21) };
}

/** The engine makes a function that is called often quick for good, one long loop again and again. */
const AT_ONCE = 128;

/** Written out, since this is where the time goes: p is the slope of a shift right, q down, s of scale, t of turn, g of gain, o of the offset. */
function addEquations(sums: Float64Array, { first, across, down }: FitPair, gain: number, samples: Samples, residuals: Float32Array, cut: number, size: number, from: number, to: number): void {
  let [pp, pq, ps, pt, pg, po, qq, qs, qt, qg, qo, ss, st, sg, so, tt, tg, tO, gg, go, oo] = [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0];
  let [rp, rq, rs, rt, rg, ro] = [0, 0, 0, 0, 0, 0];
  for (let i = from; i < to; i++) {
    const residual = residuals[i] ?? 0;
    const share = residual / cut;
    const inside = 1 - share * share;
    if (!(inside > 0)) continue;
    const w = inside * inside;
    const at = samples.at[i] ?? 0;
    const awayX = (samples.x[i] ?? 0) / size;
    const awayY = (samples.y[i] ?? 0) / size;
    const p = gain * (across[at] ?? 0);
    const q = gain * (down[at] ?? 0);
    const s = p * awayX + q * awayY;
    const t = q * awayX - p * awayY;
    const g = -(first[at] ?? 0) / 64;
    const wp = w * p;
    const wq = w * q;
    const ws = w * s;
    const wt = w * t;
    const wg = w * g;
    pp += wp * p;
    pq += wp * q;
    ps += wp * s;
    pt += wp * t;
    pg += wp * g;
    po -= wp;
    qq += wq * q;
    qs += wq * s;
    qt += wq * t;
    qg += wq * g;
    qo -= wq;
    ss += ws * s;
    st += ws * t;
    sg += ws * g;
    so -= ws;
    tt += wt * t;
    tg += wt * g;
    tO -= wt;
    gg += wg * g;
    go -= wg;
    oo += w;
    rp += wp * residual;
    rq += wq * residual;
    rs += ws * residual;
    rt += wt * residual;
    rg += wg * residual;
    ro -= w * residual;
  }
  const added = [pp, pq, ps, pt, pg, po, qq, qs, qt, qg, qo, ss, st, sg, so, tt, tg, tO, gg, go, oo, rp, rq, rs, rt, rg, ro];
  for (let k = 0; k < 27; k++) sums[k] = (sums[k] ?? 0) + (added[k] ?? 0);
}

function agreement(residuals: Float32Array, count: number, tolerance: number): number {
  let agreeing = 0;
  for (let i = 0; i < residuals.length; i++) if (Math.abs(residuals[i] ?? 0) < tolerance) agreeing++;
  return count < residuals.length / 3 ? 0 : agreeing / count;
}
