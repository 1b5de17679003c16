import type { FrameRate } from '../../core/timecode/rate.ts';
import { frameRate, rateAsNumber, rateFromDecimal, sameRate } from '../../core/timecode/rate.ts';

/** How long pictures last, and on what clock. */
export interface PictureTiming {
  readonly samples: number;
  readonly totalTicks: number;
  readonly shortestTicks: number;
  readonly longestTicks: number;
  readonly timescale: number;
}

/** `constant`: every picture lasts alike. `rounded`: alike but for the track's coarse clock. `variable`: no single rate. */
export type TrackRate =
  | { readonly kind: 'constant' | 'rounded'; readonly rate: FrameRate }
  | { readonly kind: 'variable'; readonly average: FrameRate }
  | { readonly kind: 'unknown' };

/**
 * The rate of a track as an exact fraction. Pictures whose lengths differ by one tick round a rate the clock cannot hold
 * (23.976 at 600 ticks a second: 25, 25, 25, 26 …); their mean is taken when it is a rate of the trade.
 */
export function rateOf({ samples, totalTicks, shortestTicks, longestTicks, timescale }: PictureTiming): TrackRate {
  if (samples <= 0 || timescale <= 0 || longestTicks <= 0) return { kind: 'unknown' };
  if (shortestTicks === longestTicks) return { kind: 'constant', rate: frameRate(timescale, longestTicks) };
  const average = meanRate(samples, totalTicks, timescale);
  if (average === undefined) return { kind: 'unknown' };
  const meant = rateFromDecimal(rateAsNumber(average));
  const rounding = longestTicks - shortestTicks <= 1 && meant !== undefined && isTradeRate(meant);
  return rounding ? { kind: 'rounded', rate: meant } : { kind: 'variable', average };
}

function meanRate(samples: number, totalTicks: number, timescale: number): FrameRate | undefined {
  const num = samples * timescale;
  return totalTicks > 0 && Number.isSafeInteger(num) && Number.isSafeInteger(totalTicks) ? frameRate(num, totalTicks) : undefined;
}

/** Whole frames a second, or those over 1.001. */
function isTradeRate(rate: FrameRate): boolean {
  return rate.den === 1 || (rate.den === 1001 && sameRate(rate, frameRate(Math.round(rate.num / 1000) * 1000, 1001)));
}
