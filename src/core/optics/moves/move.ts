import type { FrameRate } from '../../timecode/rate.ts';
import type { Place } from '../projection.ts';
import type { Quaternion } from './quaternion.ts';

/** One frame of a recorded move: where the sensor was and how the camera was turned, axes as in `Place`. */
export interface MoveSample extends Place, Quaternion {
  /** Whole frames from any zero of the pass. */
  readonly frame: number;
  /** As a pinhole camera has it, breathing included; absent when nothing recorded it. */
  readonly focalLengthMm?: number;
  /** How far before the sensor the entrance pupil lies, along the view; it is what the picture is seen from. */
  readonly entrancePupilMm?: number;
}

/** A recorded move: samples in the order of their frames, each frame once; frames may be missing. */
export interface Move {
  readonly rate: FrameRate;
  readonly samples: readonly MoveSample[];
}
