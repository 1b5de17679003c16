import type { LumaFrame } from '../frame.ts';
import { scratch } from './scratch.ts';

/** Gaussian blur, `sigma` in pixels, separable, edges repeated; `into` may be given to be written over. A sigma of 0 gives the frame itself. */
export function gaussianBlur(frame: LumaFrame, sigma: number, into: Float32Array = new Float32Array(frame.values.length)): LumaFrame {
  if (!(sigma > 0)) return frame;
  const kernel = gaussianKernel(sigma);
  const rows = scratch('blurred rows', frame.values.length);
  alongRows(frame, kernel, rows);
  alongColumns(rows, frame, kernel, into);
  return { ...frame, values: into };
}

/** One side of a normalised Gaussian, the middle first, out to three sigma. */
function gaussianKernel(sigma: number): Float32Array {
  const radius = Math.max(1, Math.ceil(3 * sigma));
  const kernel = new Float32Array(radius + 1);
  let sum = 0;
  for (let i = 0; i <= radius; i++) {
    const weight = Math.exp(-(i * i) / (2 * sigma * sigma));
    kernel[i] = weight;
    sum += i === 0 ? weight : 2 * weight;
  }
  for (let i = 0; i <= radius; i++) kernel[i] = (kernel[i] ?? 0) / sum;
  return kernel;
}

function alongRows({ width, height, values }: LumaFrame, kernel: Float32Array, out: Float32Array): void {
  const radius = kernel.length - 1;
  // One more on each side: the last walk of an odd radius looks there, with no weight.
  const edge = radius + 1;
  const padded = new Float32Array(width + 2 * edge);
  for (let y = 0; y < height; y++) {
    const row = y * width;
    padded.set(values.subarray(row, row + width), edge);
    padded.fill(values[row] ?? 0, 0, edge);
    padded.fill(values[row + width - 1] ?? 0, edge + width);
    begin(out, row, width, padded, edge, kernel[0] ?? 0);
    for (let k = 1; k <= radius; k += 2) addPairs(out, row, width, padded, edge - k, edge + k, kernel[k] ?? 0, edge - k - 1, edge + k + 1, k < radius ? (kernel[k + 1] ?? 0) : 0);
  }
}

/** Whole rows are added at once: going down one column at a time would miss the cache on every step. */
function alongColumns(values: Float32Array, { width, height }: LumaFrame, kernel: Float32Array, out: Float32Array): void {
  const radius = kernel.length - 1;
  for (let y = 0; y < height; y++) {
    const row = y * width;
    begin(out, row, width, values, row, kernel[0] ?? 0);
    for (let k = 1; k <= radius; k += 2) {
      const near = Math.max(y - k, 0) * width;
      const nearBelow = Math.min(y + k, height - 1) * width;
      const far = Math.max(y - k - 1, 0) * width;
      const farBelow = Math.min(y + k + 1, height - 1) * width;
      addPairs(out, row, width, values, near, nearBelow, kernel[k] ?? 0, far, farBelow, k < radius ? (kernel[k + 1] ?? 0) : 0);
    }
  }
}

// A row is a call of its own: the engine makes a small function that is called often quick for good, one long function with
// loops in loops again and again.

function begin(out: Float32Array, to: number, count: number, source: Float32Array, from: number, weight: number): void {
  for (let x = 0; x < count; x++) out[to + x] = weight * (source[from + x] ?? 0);
}

/** Adds two pairs of neighbours that lie alike far from the middle, each pair with its weight. */
function addPairs(out: Float32Array, to: number, count: number, source: Float32Array, a: number, b: number, near: number, c: number, d: number, far: number): void {
  for (let x = 0; x < count; x++) out[to + x] = (out[to + x] ?? 0) + near * ((source[a + x] ?? 0) + (source[b + x] ?? 0)) + far * ((source[c + x] ?? 0) + (source[d + x] ?? 0));
}

/** Mean over a square of 2 * `radius` + 1 pixels a side, edges repeated, by running sums. */
export function boxBlur(frame: LumaFrame, radius: number): LumaFrame {
  if (!(radius > 0)) return frame;
  const { width, height } = frame;
  const rows = scratch('averaged rows', width * height);
  for (let y = 0; y < height; y++) runningMean(frame.values, rows, { from: y * width, step: 1, count: width }, radius);
  const values = new Float32Array(width * height);
  for (let x = 0; x < width; x++) runningMean(rows, values, { from: x, step: width, count: height }, radius);
  return { width, height, values };
}

interface Line {
  readonly from: number;
  readonly step: number;
  readonly count: number;
}

function runningMean(source: Float32Array, target: Float32Array, { from, step, count }: Line, radius: number): void {
  const last = count - 1;
  const share = 1 / (2 * radius + 1);
  let sum = 0;
  for (let i = -radius; i <= radius; i++) sum += source[from + step * Math.min(Math.max(i, 0), last)] ?? 0;
  for (let i = 0; i < count; i++) {
    target[from + step * i] = sum * share;
    sum += (source[from + step * Math.min(i + radius + 1, last)] ?? 0) - (source[from + step * Math.max(i - radius, 0)] ?? 0);
  }
}
