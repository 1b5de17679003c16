import type { LumaFrame } from '../frame.ts';

/** Codes a pixel across and down, by central differences, one-sided at the edge. */
export interface Gradient {
  readonly across: Float32Array;
  readonly down: Float32Array;
}

/** How fast the picture changes at each pixel, across and down. */
export function gradient({ width, height, values }: LumaFrame): Gradient {
  const across = new Float32Array(width * height);
  const down = new Float32Array(width * height);
  for (let y = 0; y < height; y++) {
    const above = Math.max(y - 1, 0) * width;
    const below = Math.min(y + 1, height - 1) * width;
    const rows = Math.max((below - above) / width, 1);
    for (let x = 0; x < width; x++) {
      const left = Math.max(x - 1, 0);
      const right = Math.min(x + 1, width - 1);
      across[y * width + x] = ((values[y * width + right] ?? 0) - (values[y * width + left] ?? 0)) / Math.max(right - left, 1);
      down[y * width + x] = ((values[below + x] ?? 0) - (values[above + x] ?? 0)) / rows;
    }
  }
  return { across, down };
}

/** The steepness of the picture at each pixel, whichever the direction, in codes a pixel. */
export function steepness(frame: LumaFrame): Float32Array {
  const { across, down } = gradient(frame);
  return across.map((value, i) => Math.hypot(value, down[i] ?? 0));
}
