import type { LumaFrame } from '../frame.ts';
import { medianInPlace } from '../pixels/order.ts';
import { steepness } from '../pixels/gradient.ts';
import { scratch } from '../pixels/scratch.ts';
import { bringInLight, lightTo } from './light.ts';
import { softened } from './soften.ts';

/** Two frames that lie over each other, the swapped one already registered to the lead. */
export interface FramePair {
  /** Frame of the lead, counted from its first. */
  readonly frame: number;
  readonly lead: LumaFrame;
  readonly swapped: LumaFrame;
}

/** The empty set as the masks need it, and what counts as a difference from it at each pixel. */
export interface Still {
  readonly width: number;
  readonly height: number;
  /** True when it is a clean plate; false when it is the median of the passes. */
  readonly photographed: boolean;
  /** Softened codes. */
  readonly values: Float32Array;
  /** Above this a pixel differs, codes. */
  readonly threshold: Float32Array;
  /** The pair's own spread of differences, codes. */
  readonly spread: number;
}

/** Differences above so many spreads are no noise: measured over seven codecs, backgrounds stay under 7.9, figures begin at 14.5. */
const SPREADS = 8;
/** No difference under this many codes is called one. */
const LEAST_CODES = 1;
/** What a picture misregistered by this many pixels may differ at an edge. */
export const EDGE_SLACK_PX = 0.1;

/**
 * The empty set from a clean plate (already in register), or, where there is none, from the pairs: their median over time,
 * right wherever nobody stands for half of both passes. `samples` are pairs spread over the whole range, a dozen or more; none is
 * kept.
 * @throws {RangeError} when there is no pair, or the frames are not of one size.
 */
export function makeStill(samples: Iterable<FramePair>, cleanPlate?: LumaFrame): Still {
  let reference = cleanPlate === undefined ? undefined : softened(cleanPlate);
  let size: { readonly width: number; readonly height: number } | undefined = cleanPlate;
  const kept: Float32Array[] = [];
  const away: Float32Array[] = [];
  for (const { lead, swapped } of samples) {
    size ??= lead;
    const { width, height } = size;
    if ([lead, swapped].some((frame) => frame.width !== width || frame.height !== height)) throw new RangeError('frames of unlike size do not lie over each other');
    reference ??= softened(lead);
    const [first, second] = cleanPlate === undefined ? [softened(lead), softened(swapped)] : [softened(lead, scratch('still, lead', width * height)), softened(swapped, scratch('still, swapped', width * height))];
    bringInLight(first, lightTo(first, reference));
    bringInLight(second, lightTo(second, reference));
    if (cleanPlate === undefined) kept.push(first, second);
    away.push(someAway(first, second));
  }
  if (size === undefined || reference === undefined || away.length === 0) throw new RangeError('the empty set cannot be known from no frames');
  const { width, height } = size;
  const values = cleanPlate === undefined ? medianOf(kept) : reference;
  const spread = spreadOf(away);
  const steep = steepness({ width, height, values });
  const least = Math.max(LEAST_CODES, SPREADS * spread);
  return { width, height, photographed: cleanPlate !== undefined, values, spread, threshold: steep.map((codes) => least + EDGE_SLACK_PX * codes) };
}

function medianOf(frames: readonly Float32Array[]): Float32Array {
  const column = new Float32Array(frames.length);
  return Float32Array.from({ length: frames[0]?.length ?? 0 }, (_, i) => {
    for (let t = 0; t < frames.length; t++) column[t] = frames[t]?.[i] ?? 0;
    return medianInPlace(column, column.length);
  });
}

/** How far the passes lie apart at every fourth pixel, which tells enough. */
function someAway(lead: Float32Array, swapped: Float32Array): Float32Array {
  const away = new Float32Array(Math.ceil(lead.length / 4));
  for (let i = 0; i < away.length; i++) away[i] = Math.abs((lead[4 * i] ?? 0) - (swapped[4 * i] ?? 0));
  return away;
}

/** From the median difference of the passes, as if it were Gaussian. */
function spreadOf(pairs: readonly Float32Array[]): number {
  const each = pairs[0]?.length ?? 0;
  const away = new Float32Array(each * pairs.length);
  pairs.forEach((some, t) => away.set(some, t * each));
  return 1.4826 * medianInPlace(away, away.length);
}
