/** Up to `warn` all is well; above it a person must look; above `stop` it will fail. Both in the unit of the entry's name. */
export interface Tolerance {
  readonly warn: number;
  readonly stop: number;
}

/** Everything a check compares against. All of it is data of the pipeline file; the defaults are common practice and say so. */
export interface Tolerances {
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
