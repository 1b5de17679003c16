import { lightTo } from './light.ts';
import type { Runs } from './runs.ts';
import { findBlobs } from './runs.ts';
import type { FrameFigures } from './sides.ts';
import { LEAST_FIGURE_SHARE } from './sides.ts';
import { softened } from './soften.ts';
import type { FramePair, Still } from './still.ts';

/** What one pair of frames says: pixels no line may touch, and who stands where. A few kilobytes; the frames are not kept. */
export interface FrameMasks extends FrameFigures {
  readonly frame: number;
  readonly blocked: Runs;
  /** Median-like measure of how much of the picture differs, 0..1. */
  readonly share: number;
}

/** Patches smaller than this are specks of noise. */
const LEAST_SPECK_PX = 6;

/** One byte a pixel, 1 where no line may run and where each pass differs from the empty set. */
interface Planes {
  readonly blocked: Uint8Array;
  readonly lead: Uint8Array;
  readonly swapped: Uint8Array;
}

/** Makes masks pair by pair over one empty set, each frame brought into its light, so that no flicker reads as a figure; keeps the largest difference ever seen at each pixel, and the sum of all, in codes. */
export class MaskMaker {
  readonly worst: Float32Array;
  /** Lead minus swapped, over all pairs. */
  readonly sum: Float32Array;
  readonly #still: Still;
  readonly #planes: Planes;
  /** Written over at every pair. */
  readonly #room: { readonly lead: Float32Array; readonly swapped: Float32Array };

  constructor(still: Still) {
    this.#still = still;
    const area = still.width * still.height;
    this.worst = new Float32Array(area);
    this.sum = new Float32Array(area);
    this.#planes = { blocked: new Uint8Array(area), lead: new Uint8Array(area), swapped: new Uint8Array(area) };
    this.#room = { lead: new Float32Array(area), swapped: new Float32Array(area) };
  }

  /**
   * A pixel is blocked where the passes differ, or either differs from the empty set: two people of one tone at one spot
   * agree with each other.
   */
  masksOf(pair: FramePair): FrameMasks {
    const { width, height } = this.#still;
    this.#compare(pair);
    const least = Math.max(LEAST_SPECK_PX + 1, Math.round(LEAST_FIGURE_SHARE * width * height));
    const { blobs, runs } = findBlobs(this.#planes.blocked, width, height, LEAST_SPECK_PX);
    return {
      frame: pair.frame,
      blocked: runs,
      share: blobs.reduce((sum, { area }) => sum + area, 0) / (width * height),
      lead: findBlobs(this.#planes.lead, width, height, least).blobs,
      swapped: findBlobs(this.#planes.swapped, width, height, least).blobs,
    };
  }

  #compare(pair: FramePair): void {
    const { values, width } = this.#still;
    const a = softened(pair.lead, this.#room.lead);
    const b = softened(pair.swapped, this.#room.swapped);
    const { gain: gainA, offset: offsetA } = lightTo(a, values);
    const { gain: gainB, offset: offsetB } = lightTo(b, values);
    const lit = { a, b, gainA, offsetA, gainB, offsetB };
    for (let from = 0; from < a.length; from += width) compareRow(this.#still, lit, this.#planes, this, from, from + width);
  }
}

/** Both passes softened, with what brings them into the light of the empty set. */
interface Lit {
  readonly a: Float32Array;
  readonly b: Float32Array;
  readonly gainA: number;
  readonly offsetA: number;
  readonly gainB: number;
  readonly offsetB: number;
}

function compareRow({ values, threshold }: Still, { a, b, gainA, offsetA, gainB, offsetB }: Lit, { blocked, lead, swapped }: Planes, { worst, sum }: Pick<MaskMaker, 'worst' | 'sum'>, from: number, to: number): void {
  for (let i = from; i < to; i++) {
    const codeA = gainA * (a[i] ?? 0) + offsetA;
    const codeB = gainB * (b[i] ?? 0) + offsetB;
    const limit = threshold[i] ?? 0;
    const apart = Math.abs(codeA - codeB);
    const inA = Math.abs(codeA - (values[i] ?? 0)) > limit;
    const inB = Math.abs(codeB - (values[i] ?? 0)) > limit;
    lead[i] = inA ? 1 : 0;
    swapped[i] = inB ? 1 : 0;
    blocked[i] = inA || inB || apart > limit ? 1 : 0;
    if (apart > (worst[i] ?? 0)) worst[i] = apart;
    sum[i] = (sum[i] ?? 0) + codeA - codeB;
  }
}
