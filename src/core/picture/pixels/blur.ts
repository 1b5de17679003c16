import type { LumaFrame } from '../frame.ts';

/** Gaussian blur, `sigma` in pixels, separable, edges repeated. A sigma of 0 gives the frame itself. */
export function gaussianBlur(frame: LumaFrame, sigma: number): LumaFrame {
  if (!(sigma > 0)) return frame;
  const kernel = gaussianKernel(sigma);
  const along = alongRows(frame, kernel);
  return { ...frame, values: alongColumns(along, frame.width, frame.height, kernel) };
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

function alongRows({ width, height, values }: LumaFrame, kernel: Float32Array): Float32Array {
  const radius = kernel.length - 1;
  const out = new Float32Array(width * height);
  const padded = new Float32Array(width + 2 * radius);
  for (let y = 0; y < height; y++) {
    const row = y * width;
    for (let x = -radius; x < width + radius; x++) padded[x + radius] = values[row + Math.min(Math.max(x, 0), width - 1)] ?? 0;
    for (let x = 0; x < width; x++) {
      let sum = (kernel[0] ?? 0) * (padded[x + radius] ?? 0);
      for (let k = 1; k <= radius; k++) sum += (kernel[k] ?? 0) * ((padded[x + radius - k] ?? 0) + (padded[x + radius + k] ?? 0));
      out[row + x] = sum;
    }
  }
  return out;
}

/** Whole rows are added at once: walking down one column at a time would miss the cache on every step. */
function alongColumns(values: Float32Array, width: number, height: number, kernel: Float32Array): Float32Array {
  const radius = kernel.length - 1;
  const out = new Float32Array(width * height);
  for (let y = 0; y < height; y++) {
    const row = y * width;
    for (let k = 0; k <= radius; k++) {
      const weight = kernel[k] ?? 0;
      const above = Math.max(y - k, 0) * width;
      const below = Math.min(y + k, height - 1) * width;
      if (k === 0) for (let x = 0; x < width; x++) out[row + x] = weight * (values[row + x] ?? 0);
      else for (let x = 0; x < width; x++) out[row + x] = (out[row + x] ?? 0) + weight * ((values[above + x] ?? 0) + (values[below + x] ?? 0));
    }
  }
  return out;
}

/** Mean over a square of 2 * `radius` + 1 pixels a side, edges repeated, by running sums. */
export function boxBlur(frame: LumaFrame, radius: number): LumaFrame {
  if (!(radius > 0)) return frame;
  const { width, height } = frame;
  const rows = new Float32Array(width * height);
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
  const at = (i: number): number => source[from + step * Math.min(Math.max(i, 0), count - 1)] ?? 0;
  const span = 2 * radius + 1;
  let sum = 0;
  for (let i = -radius; i <= radius; i++) sum += at(i);
  for (let i = 0; i < count; i++) {
    target[from + step * i] = sum / span;
    sum += at(i + radius + 1) - at(i - radius);
  }
}
