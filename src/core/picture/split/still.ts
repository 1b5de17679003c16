import type { LumaFrame } from '../frame.ts';
import { medianInPlace } from '../pixels/order.ts';
import { steepness } from '../pixels/gradient.ts';
import { inLight, lightTo } from './light.ts';
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
const EDGE_SLACK_PX = 0.1;

/**
 * The empty set from a clean plate (already in register), or, where there is none, from the pairs: their median over time,
 * right wherever nobody stands for half of both passes. `samples` are pairs spread over the whole range, a dozen or more.
 * @throws {RangeError} when there is no pair, or the frames are not of one size.
 */
export function makeStill(samples: readonly FramePair[], cleanPlate?: LumaFrame): Still {
  const [first] = samples;
  if (first === undefined) throw new RangeError('the empty set cannot be known from no frames');
  const { width, height } = first.lead;
  const frames = [...samples.flatMap(({ lead, swapped }) => [lead, swapped]), ...(cleanPlate === undefined ? [] : [cleanPlate])];
  if (frames.some((frame) => frame.width !== width || frame.height !== height)) throw new RangeError('frames of unlike size do not lie over each other');
  const reference = softened(cleanPlate ?? first.lead);
  const lit = (frame: LumaFrame): Float32Array => litLike(softened(frame), reference);
  const soft = samples.map(({ lead, swapped }) => ({ lead: lit(lead), swapped: lit(swapped) }));
  const values = cleanPlate === undefined ? medianOf(soft.flatMap(({ lead, swapped }) => [lead, swapped])) : reference;
  const spread = spreadOf(soft);
  const steep = steepness({ width, height, values });
  const least = Math.max(LEAST_CODES, SPREADS * spread);
  return { width, height, photographed: cleanPlate !== undefined, values, spread, threshold: steep.map((codes) => least + EDGE_SLACK_PX * codes) };
}

function litLike(values: Float32Array, reference: Float32Array): Float32Array {
  return inLight(values, lightTo(values, reference));
}

function medianOf(frames: readonly Float32Array[]): Float32Array {
  const column = new Float32Array(frames.length);
  return Float32Array.from({ length: frames[0]?.length ?? 0 }, (_, i) => {
    for (let t = 0; t < frames.length; t++) column[t] = frames[t]?.[i] ?? 0;
    return medianInPlace(column, column.length);
  });
}

/** From the median difference of the passes, as if it were Gaussian. Every fourth pixel tells enough. */
function spreadOf(pairs: readonly { readonly lead: Float32Array; readonly swapped: Float32Array }[]): number {
  const each = Math.ceil((pairs[0]?.lead.length ?? 0) / 4);
  const away = new Float32Array(each * pairs.length);
  pairs.forEach(({ lead, swapped }, t) => {
    for (let i = 0; i < each; i++) away[t * each + i] = Math.abs((lead[4 * i] ?? 0) - (swapped[4 * i] ?? 0));
  });
  return 1.4826 * medianInPlace(away, away.length);
}
