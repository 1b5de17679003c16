import type { LumaFrame } from '../frame.ts';

/**
 * A frame blurred by a Gaussian of 1 pixel (as the binomial 1 4 6 4 1) and then averaged over 3 x 3: 1 5 11 14 11 5 1 in 48ths
 * each way, edges repeated. The blur keeps the ringing of a resampled hard edge from reading as somebody standing there; the
 * average brings the noise down. `out` and `rows` may be given to be written over.
 */
export function softened({ width, height, values }: LumaFrame, out: Float32Array = new Float32Array(width * height), rows: Float32Array = new Float32Array(width * height)): Float32Array {
  const padded = new Float32Array(width + 6);
  for (let y = 0; y < height; y++) {
    const row = y * width;
    padded.set(values.subarray(row, row + width), 3);
    padded.fill(values[row] ?? 0, 0, 3);
    padded.fill(values[row + width - 1] ?? 0, width + 3);
    for (let x = 0; x < width; x++) {
      const near = (padded[x + 2] ?? 0) + (padded[x + 4] ?? 0);
      const next = (padded[x + 1] ?? 0) + (padded[x + 5] ?? 0);
      const far = (padded[x] ?? 0) + (padded[x + 6] ?? 0);
      rows[row + x] = (14 * (padded[x + 3] ?? 0) + 11 * near + 5 * next + far) / 48;
    }
  }
  const at = (y: number): number => Math.min(Math.max(y, 0), height - 1) * width;
  for (let y = 0; y < height; y++) {
    const [a, b, c, d, e, f, g] = [at(y - 3), at(y - 2), at(y - 1), at(y), at(y + 1), at(y + 2), at(y + 3)];
    for (let x = 0; x < width; x++) {
      const near = (rows[c + x] ?? 0) + (rows[e + x] ?? 0);
      const next = (rows[b + x] ?? 0) + (rows[f + x] ?? 0);
      out[d + x] = (14 * (rows[d + x] ?? 0) + 11 * near + 5 * next + (rows[a + x] ?? 0) + (rows[g + x] ?? 0)) / 48;
    }
  }
  return out;
}
