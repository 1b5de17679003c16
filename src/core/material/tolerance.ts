import type { Limits } from '../optics/limits.ts';

/** Up to `warn` all is well; above it a person must look; above `stop` it will fail. Both in the unit of the entry's name. */
export interface Tolerance {
  readonly warn: number;
  readonly stop: number;
}

/** Everything a check compares against. All of it is data of the pipeline file; the defaults are common practice and say so. */
export interface Tolerances {
  /** Shift that a warp can undo, px of a plate 4096 px wide: other plates in proportion. */
  readonly shiftPx: Tolerance;
  /** Parallax between near and far, px of a plate 4096 px wide: nothing undoes it. */
  readonly parallaxPx: Tolerance;
  /** Difference of blur discs, px of a plate 4096 px wide. */
  readonly blurPx: Tolerance;
  /** Light on the sensor, all settings together. */
  readonly exposureStops: Tolerance;
  readonly focalLengthPercent: Tolerance;
  readonly focusDioptre: Tolerance;
  readonly stopStops: Tolerance;
  readonly ndStops: Tolerance;
  readonly shutterDeg: Tolerance;
  readonly eiStops: Tolerance;
  readonly whiteBalanceK: Tolerance;
  readonly heightMm: Tolerance;
  readonly tiltDeg: Tolerance;
  readonly rollDeg: Tolerance;
  readonly distanceMm: Tolerance;
  /** Two sources of one clip may differ by this much before it is a disagreement: percent of the value. */
  readonly sourcesPercent: number;
  /** Frames by which a stated length may differ from the counted one. */
  readonly lengthFrames: number;
}

/** The plate width that tolerances in px are written for. */
const WRITTEN_FOR_PX = 4096;

/** A tolerance in px for a plate of another width. */
export function scaledTo(widthPx: number, { warn, stop }: Tolerance): Tolerance {
  const scale = widthPx / WRITTEN_FOR_PX;
  return { warn: warn * scale, stop: stop * scale };
}

/** How far a join may be out before a person must look, for a plate of this width: what the repeat card solves backwards. */
export function limitsOf({ shiftPx, parallaxPx, blurPx, exposureStops }: Tolerances, widthPx: number): Limits {
  const warn = (tolerance: Tolerance): number => scaledTo(widthPx, tolerance).warn;
  return { shiftPx: warn(shiftPx), parallaxPx: warn(parallaxPx), blurPx: warn(blurPx), stops: exposureStops.warn };
}
