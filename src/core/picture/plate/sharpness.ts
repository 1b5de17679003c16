import type { Blob } from '../pixels/blobs.ts';
import { gradient } from '../pixels/gradient.ts';
import { erode } from '../pixels/morphology.ts';
import { median, quantile } from '../pixels/order.ts';

/**
 * How suddenly a difference begins: the upper quartile of its slope on its outermost two pixels over the
 * middle of its strength inside. Bodies have edges, soft shadows have none.
 */
export function sharpnessOf(blob: Blob, differences: Float32Array, { width, height }: { readonly width: number; readonly height: number }): number {
  const mask = new Uint8Array(width * height);
  for (const at of blob.pixels) mask[at] = 1;
  const inside = erode(mask, width, { from: -2, to: 2 });
  const { across, down } = gradient({ width, height, values: differences });
  const [rim, strengths]: [number[], number[]] = [[], []];
  for (const at of blob.pixels) {
    if (inside[at] === 0) rim.push(Math.hypot(across[at] ?? 0, down[at] ?? 0));
    strengths.push(Math.abs(differences[at] ?? 0));
  }
  const strength = median(strengths);
  return strength > 0 && rim.length > 0 ? quantile(rim, 0.75) / strength : 0;
}
