import type { LumaFrame } from '../frame.ts';
import { median } from '../pixels/order.ts';

/** Noise of pixels of like brightness; `count` pixels of mean code `code`. */
export interface NoiseAtCode {
  readonly code: number;
  readonly sigma: number;
  readonly count: number;
}

/** Spread of the noise in 8-bit codes, for the whole picture and by brightness (eight steps, those with enough pixels). */
export interface NoiseFloor {
  readonly sigma: number;
  readonly byCode: readonly NoiseAtCode[];
}

const BINS = 8;
/** A step of brightness with fewer pixels says nothing. */
const LEAST_PIXELS = 200;

/**
 * Noise from frame to frame of a locked camera: the mean of absolute differences (which, unlike their median, survives 8-bit
 * steps), on pixels that nothing walks across. Undefined for fewer than two frames. Long-GOP codecs hold frames still, so
 * there it reads too little.
 */
export function temporalNoise(frames: readonly LumaFrame[]): NoiseFloor | undefined {
  const first = frames[0];
  if (first === undefined || frames.length < 2) return undefined;
  const { least, most, moved, sums } = overTime(frames, first.values.length);
  const range = most.map((value, i) => value - (least[i] ?? 0));
  // Few frames have no typical range: the more there are, the nearer the median is to every range that is noise alone.
  const quiet = (frames.length < 4 ? 4 : 2.5) * median(range);
  const bins = Array.from({ length: BINS }, () => ({ sum: 0, codes: 0, count: 0 }));
  for (let i = 0; i < range.length; i++) {
    if ((range[i] ?? 0) > quiet) continue;
    const code = (sums[i] ?? 0) / frames.length;
    const bin = bins[Math.min(BINS - 1, Math.max(0, Math.floor((code * BINS) / 256)))];
    if (bin === undefined) continue;
    bin.sum += (moved[i] ?? 0) / (frames.length - 1);
    bin.codes += code;
    bin.count++;
  }
  const sigmaOf = (sum: number, count: number): number => (count === 0 ? 0 : (Math.sqrt(Math.PI / 2) * (sum / count)) / Math.SQRT2);
  const total = bins.reduce((all, bin) => ({ sum: all.sum + bin.sum, count: all.count + bin.count }), { sum: 0, count: 0 });
  const byCode = bins.filter(({ count }) => count >= LEAST_PIXELS).map(({ sum, codes, count }) => ({ code: codes / count, sigma: sigmaOf(sum, count), count }));
  return { sigma: sigmaOf(total.sum, total.count), byCode };
}

interface OverTime {
  readonly least: Float32Array;
  readonly most: Float32Array;
  readonly moved: Float32Array;
  readonly sums: Float32Array;
}

function overTime(frames: readonly LumaFrame[], length: number): OverTime {
  const [least, most] = [new Float32Array(length).fill(Infinity), new Float32Array(length).fill(-Infinity)];
  const [moved, sums] = [new Float32Array(length), new Float32Array(length)];
  let before: Float32Array | undefined;
  for (const { values } of frames) {
    for (let i = 0; i < length; i++) {
      const value = values[i] ?? 0;
      if (value < (least[i] ?? 0)) least[i] = value;
      if (value > (most[i] ?? 0)) most[i] = value;
      sums[i] = (sums[i] ?? 0) + value;
      if (before !== undefined) moved[i] = (moved[i] ?? 0) + Math.abs(value - (before[i] ?? 0));
    }
    before = values;
  }
  return { least, most, moved, sums };
}

/**
 * Noise from one frame by a mask that a flat or evenly sloping picture does not answer to (Immerkaer 1996). Texture adds to
 * it, near one code on a plastered wall: an upper bound.
 */
export function spatialNoise({ width, height, values }: LumaFrame): number {
  let sum = 0;
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1; x < width - 1; x++) {
      const at = y * width + x;
      const around = (values[at - width] ?? 0) + (values[at + width] ?? 0) + (values[at - 1] ?? 0) + (values[at + 1] ?? 0);
      const corners = (values[at - width - 1] ?? 0) + (values[at - width + 1] ?? 0) + (values[at + width - 1] ?? 0) + (values[at + width + 1] ?? 0);
      sum += Math.abs(4 * (values[at] ?? 0) - 2 * around + corners);
    }
  }
  return (Math.sqrt(Math.PI / 2) * sum) / (6 * (width - 2) * (height - 2));
}

/** How many times noisier the swapped pass is, and whether grain must be matched: over 25 % apart either way. */
export function compareGrain(lead: NoiseFloor, swapped: NoiseFloor): { readonly ratio: number; readonly differs: boolean } | undefined {
  if (!(lead.sigma > 0 && swapped.sigma > 0)) return undefined;
  const ratio = swapped.sigma / lead.sigma;
  return { ratio, differs: ratio > 1.25 || ratio < 1 / 1.25 };
}
