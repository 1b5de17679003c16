import type { LumaFrame } from '../frame.ts';

/** Codes a pixel across and down, by central differences, one-sided at the edge. */
export interface Gradient {
  readonly across: Float32Array;
  readonly down: Float32Array;
}

/** How fast the picture changes at each pixel, across and down; `into` may be given to be written over. */
export function gradient({ width, height, values }: LumaFrame, into: Gradient = { across: new Float32Array(values.length), down: new Float32Array(values.length) }): Gradient {
  const { across, down } = into;
  for (let y = 0; y < height; y++) {
    const row = y * width;
    slopesAlong(values, across, row, width);
    const above = Math.max(y - 1, 0) * width;
    const below = Math.min(y + 1, height - 1) * width;
    slopesDown(values, down, row, width, above, below);
  }
  return into;
}

function slopesAlong(values: Float32Array, across: Float32Array, row: number, width: number): void {
  const last = row + width - 1;
  for (let at = row + 1; at < last; at++) across[at] = 0.5 * ((values[at + 1] ?? 0) - (values[at - 1] ?? 0));
  if (width < 2) return;
  across[row] = (values[row + 1] ?? 0) - (values[row] ?? 0);
  across[last] = (values[last] ?? 0) - (values[last - 1] ?? 0);
}

function slopesDown(values: Float32Array, down: Float32Array, row: number, width: number, above: number, below: number): void {
  const share = width / Math.max(below - above, width);
  for (let x = 0; x < width; x++) down[row + x] = share * ((values[below + x] ?? 0) - (values[above + x] ?? 0));
}

/** The steepness of the picture at each pixel, whichever the direction, in codes a pixel. */
export function steepness(frame: LumaFrame): Float32Array {
  const { across, down } = gradient(frame);
  for (let i = 0; i < across.length; i++) {
    const x = across[i] ?? 0;
    const y = down[i] ?? 0;
    across[i] = Math.sqrt(x * x + y * y);
  }
  return across;
}
