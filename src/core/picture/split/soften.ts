import type { LumaFrame } from '../frame.ts';
import { scratch } from '../pixels/scratch.ts';

/**
 * A frame blurred by a Gaussian of 1 pixel (as the binomial 1 4 6 4 1) and then averaged over 3 x 3: 1 5 11 14 11 5 1 in 48ths
 * each way, edges repeated. The blur keeps the ringing of a resampled hard edge from reading as somebody standing there; the
 * average brings the noise down. `out` may be given to be written over.
 */
export function softened({ width, height, values }: LumaFrame, out: Float32Array = new Float32Array(width * height)): Float32Array {
  const rows = scratch('softened rows', width * height);
  for (let y = 0; y < height; y++) softenRow(values, rows, y * width, width);
  for (let y = 0; y < height; y++) softenDown(rows, out, y, width, height - 1);
  return out;
}

// A row is a call of its own in all of these: the engine makes a small function that is called often quick for good, one long
// function with loops in loops again and again.

const SHARE = 1 / 48;

/** Seven neighbours walk along, so that each pixel is fetched once. */
function softenRow(values: Float32Array, out: Float32Array, from: number, width: number): void {
  const last = from + width - 1;
  let d = values[from] ?? 0;
  let [a, b, c] = [d, d, d];
  let e = values[Math.min(from + 1, last)] ?? 0;
  let f = values[Math.min(from + 2, last)] ?? 0;
  for (let at = from; at <= last; at++) {
    const g = values[Math.min(at + 3, last)] ?? 0;
    out[at] = (14 * d + 11 * (c + e) + 5 * (b + f) + a + g) * SHARE;
    a = b;
    b = c;
    c = d;
    d = e;
    e = f;
    f = g;
  }
}

function softenDown(rows: Float32Array, out: Float32Array, y: number, width: number, last: number): void {
  const a = Math.max(y - 3, 0) * width;
  const b = Math.max(y - 2, 0) * width;
  const c = Math.max(y - 1, 0) * width;
  const d = y * width;
  const e = Math.min(y + 1, last) * width;
  const f = Math.min(y + 2, last) * width;
  const g = Math.min(y + 3, last) * width;
  for (let x = 0; x < width; x++) {
    const near = (rows[c + x] ?? 0) + (rows[e + x] ?? 0);
    const next = (rows[b + x] ?? 0) + (rows[f + x] ?? 0);
    out[d + x] = (14 * (rows[d + x] ?? 0) + 11 * near + 5 * next + (rows[a + x] ?? 0) + (rows[g + x] ?? 0)) * SHARE;
  }
}
