import type { FrameRange, Handles } from '../timecode/range.ts';
import type { CutShot } from './cut.ts';

/**
 * One row of the shot list, or one shot of a cut. `cutIn` and `cutOut` are labels of the lead's source timecode; `cutOut` is
 * exclusive, as in an edit list.
 */
export interface ShotRow {
  readonly shot: string;
  readonly slate: string;
  readonly take?: number;
  readonly camera?: string;
  readonly method?: string;
  readonly vendor?: string;
  readonly description?: string;
  readonly cutIn?: string;
  readonly cutOut?: string;
  /** Absent parts fall back to the pipeline's handles. */
  readonly handles: Partial<Handles>;
  readonly notes?: string;
  /** "shots.csv line 4", for evidence. */
  readonly from: string;
  /** The same range in frames from the lead's first, where a cut says it; it goes before the labels. */
  readonly cutFrames?: FrameRange;
  /** What the cut says of the shot, when the row comes from a cut. */
  readonly inCut?: CutShot;
}

/** One mark of a move, as noted by the crew. `tc` is a label; `timeS` seconds from the sync mark. Lengths m, angles degrees, focal length mm. */
export interface MoveMark {
  readonly slate: string;
  readonly take?: number;
  readonly camera?: string;
  readonly pass: string;
  readonly mark: string;
  readonly tc?: string;
  readonly timeS?: number;
  readonly x?: number;
  readonly y?: number;
  readonly z?: number;
  readonly pan?: number;
  readonly tilt?: number;
  readonly roll?: number;
  readonly focalLengthMm?: number;
  readonly focusDistanceM?: number;
  readonly notes?: string;
  readonly from: string;
}
