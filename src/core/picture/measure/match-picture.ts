import type { ColourAnswer } from '../exposure/match-exposure.ts';
import type { Bump, MoveKind } from '../motion/classify.ts';
import type { PlateDifference } from '../plate/check-plate.ts';
import type { Raster } from '../registration/plate-px.ts';
import type { Similarity } from '../registration/similarity.ts';
import type { ScreenMeasured } from '../screen/check-screen.ts';
import type { SplitLine } from '../split/split-line.ts';
import type { FrameFaults } from '../stream/judge-frames.ts';
import type { SyncAnswer } from '../sync/sync-found.ts';

/** A measurement, or the reason why there is none. */
export type Told<T> = ({ readonly kind: 'measured' } & T) | CannotTell;

export interface CannotTell {
  readonly kind: 'cannot-tell';
  readonly why: string;
}

/** How a pass lies on the lead: px of the lead's plate; `largestPx` is the furthest any corner moves, the others are about the middle. */
export interface PlateRegistration extends Similarity {
  readonly largestPx: number;
  readonly uncertaintyPx: number;
  /** What the measurement says of a pass against itself, px. */
  readonly nullPx?: number;
  readonly psr: number;
  readonly q: number;
  readonly pairs: number;
  readonly confidence: 'good' | 'low';
}

/** What the camera of one clip did. px of the lead's plate, at the edge of the frame. */
export interface ClipMotion {
  readonly is: 'locked' | 'vibrating' | 'moving';
  readonly move?: MoveKind;
  readonly stepPx: number;
  readonly fromFirstPx: number;
  readonly bumps: readonly Bump[];
  /** Every how many frames the camera was looked at. */
  readonly everyFrames: number;
  /** Where the middle of the picture went, `[frame, x, y]`, at most 120 points. Empty for a camera that stood still. */
  readonly path: readonly (readonly [frame: number, x: number, y: number])[];
}

/** What one clip shows by itself. */
export interface ClipPicture {
  readonly frames: FrameFaults;
  readonly motion: Told<ClipMotion>;
}

/** The clean plate held against what the passes show behind the performers. Boxes in px of the lead's plate. */
export interface PlateAnswer {
  readonly registration: PlateRegistration;
  readonly differences: readonly PlateDifference[];
  /** Frames of the plate in which something stands that is not there in most others. */
  readonly activeFrames: readonly number[];
  readonly activePlaces: number;
  readonly blindShare: number;
}

/** An element by itself: lit and framed for itself, it is not laid on the lead. */
export interface ElementPicture extends ClipPicture {
  readonly screen: Told<Omit<ScreenMeasured, 'kind'>>;
}

/** Everything the pictures of one lead and its passes say. px are of the lead's plate `raster` unless they say otherwise. */
export interface MatchPicture {
  readonly raster: Raster;
  /** The small copies it was measured on. */
  readonly proxy: Raster;
  /** The frame offset it was measured at: frame of the pass = frame of the lead + offset. */
  readonly offset: number;
  readonly lead: ClipPicture;
  readonly pass?: ClipPicture;
  readonly clean?: ClipPicture;
  readonly registration: Told<PlateRegistration>;
  /** Near things against far ones, after registration; largest distance of a tile, px. */
  readonly parallax: Told<{ readonly largestPx: number; readonly tiles: number; readonly found: boolean }>;
  readonly exposure: ColourAnswer;
  /** Spread of the noise of both passes at proxy scale, 8-bit codes, and how many times noisier the pass is. */
  readonly grain: Told<{ readonly ratio: number; readonly differs: boolean; readonly lead: number; readonly pass: number }>;
  readonly plate: Told<PlateAnswer>;
  /** Undefined when the method needs no line. */
  readonly split?: SplitLine;
  /** In the order of the match. */
  readonly elements: readonly ElementPicture[];
  readonly sound: SyncAnswer;
  readonly cameraMotion: SyncAnswer;
}

/** Says that something was not measured, and why. */
export function untold(why: string): CannotTell {
  return { kind: 'cannot-tell', why };
}
