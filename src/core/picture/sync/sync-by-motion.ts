import type { MotionFit, MotionTrack } from './correlate-motion.ts';
import { correlateMotion, smoothed } from './correlate-motion.ts';
import type { SyncAnswer } from './sync-found.ts';
import { cannotTell } from './sync-found.ts';

export interface MotionSyncOptions {
  /** Offsets up to so many frames from `expectedOffset` are tried. Default: all that leave enough overlap. */
  readonly windowFrames?: number;
  readonly expectedOffset?: number;
  /** What the tracks say of a camera that stands still, px a frame. Default .02, as registration measures it on proxies. */
  readonly noisePx?: number;
}

/** Fewer frames of both passes over each other tell nothing. */
const LEAST_OVERLAP = 24;
const LEAST_LIKENESS = 0.8;
const MOST_SPREAD_FRAMES = 0.5;
/** A move whose changes of speed are not this many times the noise is a lock-off or a steady pan: it looks the same at any offset. */
const LEAST_CHANGE = 3;
/** Repeats of a move may run this much faster or slower, in steps of a hundredth. */
const WARPS = Array.from({ length: 13 }, (_, i) => 0.94 + 0.01 * i);

/**
 * The offset at which two passes show the same move of the camera, by the speeds of the picture. Locked-off cameras and pans
 * of one speed are refused, and so are moves too smooth to say it to half a frame.
 */
export function syncByMotion(lead: MotionTrack, swapped: MotionTrack, options: MotionSyncOptions = {}): SyncAnswer {
  const [first, second] = [smoothed(lead), smoothed(swapped)];
  const shorter = Math.min(first.dx.length, second.dx.length);
  if (shorter < LEAST_OVERLAP) return cannotTell(`a pass is shorter than ${LEAST_OVERLAP} frames`);
  const noise = options.noisePx ?? 0.02;
  for (const [track, name] of [[first, 'lead'], [second, 'swapped pass']] as const) {
    if (changeOf(track) < LEAST_CHANGE * noise) return cannotTell(`the camera of the ${name} stands still or moves at one speed, which looks the same at any offset`);
  }
  const overlap = Math.max(LEAST_OVERLAP, Math.floor(shorter / 2));
  const reach = { middle: options.expectedOffset ?? 0, window: options.windowFrames ?? Infinity };
  const fits = WARPS.flatMap((warp) => correlateMotion(first, second, warp, overlap, reach) ?? []);
  const best = fits.toSorted((a, b) => b.likeness - a.likeness || Math.abs(a.warp - 1) - Math.abs(b.warp - 1))[0];
  if (best === undefined) return cannotTell('the passes do not overlap within the window');
  return judge(best, spreadOf(lead, swapped, best, noise));
}

function judge({ likeness, offset, warp }: MotionFit, spread: number): SyncAnswer {
  const alike = `the moves are ${Math.round(100 * Math.max(0, likeness))} % alike`;
  if (likeness < LEAST_LIKENESS) return cannotTell(`${alike} at best: not the same move`);
  if (spread > MOST_SPREAD_FRAMES) return cannotTell(`the move is too smooth: the offset is known to ${spread.toFixed(1)} frames only`);
  if (Math.abs(warp - 1) > 0.015) return cannotTell(`the swapped pass runs ${Math.round(Math.abs(warp - 1) * 100)} % ${warp > 1 ? 'faster' : 'slower'} than the lead: no one offset holds throughout`);
  const confidence = 0.6 + 0.3 * Math.min(1, (likeness - LEAST_LIKENESS) / 0.15) * (1 - spread / MOST_SPREAD_FRAMES);
  return { kind: 'measured', offset: Math.round(offset) + 0, exactOffset: offset, confidence, words: `camera motion: ${alike}, known to ${spread.toFixed(2)} frames` };
}

/** Spread of the speeds about their mean, px a frame. */
function changeOf({ dx, dy }: { readonly dx: Float64Array; readonly dy: Float64Array }): number {
  const variance = (values: Float64Array): number => {
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    return values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length;
  };
  return Math.sqrt(variance(dx) + variance(dy));
}

/**
 * How well the offset is known, frames: noise of the speeds against how much they change from frame to frame (the bound for a
 * delay under white noise: sqrt 2 times the noise over the root of the summed squared changes).
 */
function spreadOf(lead: MotionTrack, swapped: MotionTrack, { offset, warp }: MotionFit, leastNoise: number): number {
  const smooth = smoothed(lead);
  let [apart, changes, count] = [0, 0, 0];
  for (let t = 1; t < smooth.dx.length; t++) {
    const other = Math.round(offset + warp * t);
    if (other < 0 || other >= swapped.dx.length) continue;
    apart += ((lead.dx[t] ?? 0) - (swapped.dx[other] ?? 0) / warp) ** 2 + ((lead.dy[t] ?? 0) - (swapped.dy[other] ?? 0) / warp) ** 2;
    changes += ((smooth.dx[t] ?? 0) - (smooth.dx[t - 1] ?? 0)) ** 2 + ((smooth.dy[t] ?? 0) - (smooth.dy[t - 1] ?? 0)) ** 2;
    count++;
  }
  const noise = Math.max(leastNoise, Math.sqrt(apart / Math.max(count, 1) / 4));
  return (Math.SQRT2 * noise) / Math.sqrt(Math.max(changes, 1e-12));
}
