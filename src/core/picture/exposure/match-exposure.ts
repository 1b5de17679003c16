import type { ColourFrame, LumaFrame } from '../frame.ts';
import { gaussianBlur } from '../pixels/blur.ts';
import { median } from '../pixels/order.ts';
import type { Encoding } from './encoding.ts';
import { fitGain } from './fit-gain.ts';

/** By how much one channel of the swapped pass is brighter than the lead pass. */
export interface ChannelExposure {
  /** Swapped minus lead. */
  readonly stops: number;
  readonly gain: number;
  /** Codes. */
  readonly offset: number;
  /** Share of pixels that agree with it, 0 to 1. */
  readonly agreeing: number;
  /** True when the pictures have too few tones to tell a gain from an offset: `gain` is then assumed 1. */
  readonly offsetOnly: boolean;
}

export type ChannelAnswer = ({ readonly kind: 'measured' } & ChannelExposure) | { readonly kind: 'cannot-tell'; readonly why: string };

export type ColourAnswer =
  | {
      readonly kind: 'measured';
      /** Of the green channel, which carries most of the brightness. */
      readonly stops: number;
      readonly channels: { readonly red: ChannelExposure; readonly green: ChannelExposure; readonly blue: ChannelExposure };
      /** White balance: stops of red and of blue against green, swapped minus lead. */
      readonly redStops: number;
      readonly blueStops: number;
    }
  | { readonly kind: 'cannot-tell'; readonly why: string };

const LEAST_TONAL_RANGE = 20;
const LEAST_AGREEING = 0.5;

/** Exposure of the swapped pass against the lead, from luma. The swapped frame must already lie on the lead. */
export function matchExposure(lead: LumaFrame, swapped: LumaFrame, encoding: Encoding): ChannelAnswer {
  const [x, y] = [everySecond(gaussianBlur(lead, 1)), everySecond(gaussianBlur(swapped, 1))];
  const fit = fitGain(x, y);
  if (fit === undefined) return { kind: 'cannot-tell', why: 'too few pixels are neither black nor clipped' };
  const flat = fit.tonalRange < LEAST_TONAL_RANGE;
  const gain = flat ? 1 : fit.gain;
  const offset = flat ? median(x.map((value, i) => (y[i] ?? 0) - value)) : fit.offset;
  const agreeing = flat ? shareWithin(x, y, offset) : fit.agreeing;
  if (agreeing < LEAST_AGREEING) return { kind: 'cannot-tell', why: `only ${Math.round(100 * agreeing)} % of the picture agrees on one exposure` };
  const stops = stopsOf({ gain, offset }, x, y, encoding);
  if (!Number.isFinite(stops)) return { kind: 'cannot-tell', why: 'the codes carry no light' };
  return { kind: 'measured', stops, gain, offset, agreeing, offsetOnly: flat };
}

/** Exposure and white balance of the swapped pass against the lead. The swapped frame must already lie on the lead. */
export function matchColour(lead: ColourFrame, swapped: ColourFrame, encoding: Encoding): ColourAnswer {
  const channel = (name: 'red' | 'green' | 'blue'): ChannelAnswer =>
    matchExposure({ width: lead.width, height: lead.height, values: lead[name] }, { width: swapped.width, height: swapped.height, values: swapped[name] }, encoding);
  const [red, green, blue] = [channel('red'), channel('green'), channel('blue')];
  if (red.kind === 'cannot-tell') return { ...red, why: `red: ${red.why}` };
  if (green.kind === 'cannot-tell') return { ...green, why: `green: ${green.why}` };
  if (blue.kind === 'cannot-tell') return { ...blue, why: `blue: ${blue.why}` };
  return { kind: 'measured', stops: green.stops, channels: { red, green, blue }, redStops: red.stops - green.stops, blueStops: blue.stops - green.stops };
}

function everySecond({ width, height, values }: LumaFrame): Float32Array {
  const out = new Float32Array(Math.ceil(width / 2) * Math.ceil(height / 2));
  let filled = 0;
  for (let y = 0; y < height; y += 2) for (let x = 0; x < width; x += 2) out[filled++] = values[y * width + x] ?? 0;
  return out;
}

function shareWithin(x: Float32Array, y: Float32Array, offset: number): number {
  let count = 0;
  for (let i = 0; i < x.length; i++) if (Math.abs((y[i] ?? 0) - (x[i] ?? 0) - offset) < 3) count++;
  return count / x.length;
}

/** A stop is a factor on linear light, a step on a log curve, and on a display curve a step near grey. */
function stopsOf({ gain, offset }: { readonly gain: number; readonly offset: number }, x: Float32Array, y: Float32Array, encoding: Encoding): number {
  switch (encoding.kind) {
    case 'linear':
      return gain === 1 ? Math.log2(median(y) / median(x)) : Math.log2(gain);
    case 'log': {
      // At the middle tone, so that a slope a hair off 1 does not throw the step far away at code 0.
      const middle = median(x);
      return ((gain - 1) * middle + offset) / encoding.codesPerStop;
    }
    case 'curve':
      return ((gain - 1) * encoding.greyCode + offset) / encoding.codesPerStop;
    default:
      return encoding satisfies never;
  }
}
