import type { LumaFrame } from '../frame.ts';

/** The value between pixels, by bilinear interpolation; beyond the edge, the edge. Pixel centres lie on whole numbers. */
export function sampleBilinear({ width, height, values }: LumaFrame, x: number, y: number): number {
  const insideX = Math.min(Math.max(x, 0), width - 1);
  const insideY = Math.min(Math.max(y, 0), height - 1);
  const left = Math.min(Math.floor(insideX), Math.max(width - 2, 0));
  const top = Math.min(Math.floor(insideY), Math.max(height - 2, 0));
  const toRight = insideX - left;
  const down = insideY - top;
  const at = top * width + left;
  const nextRow = height > 1 ? at + width : at;
  const next = width > 1 ? 1 : 0;
  const upper = (values[at] ?? 0) + toRight * ((values[at + next] ?? 0) - (values[at] ?? 0));
  const lower = (values[nextRow] ?? 0) + toRight * ((values[nextRow + next] ?? 0) - (values[nextRow] ?? 0));
  return upper + down * (lower - upper);
}
