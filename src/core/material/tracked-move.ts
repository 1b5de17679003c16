import type { ClipId } from './clip-id.ts';
import type { SensorArea } from '../optics/angle-of-view.ts';
import type { MoveSample } from '../optics/moves/move.ts';
import type { FrameRange } from '../timecode/range.ts';
import type { FrameRate } from '../timecode/rate.ts';
import type { TimecodeFormat } from '../timecode/timecode.ts';

/** One frame of a tracked move: pose of the sensor at the end of the chain of transforms, in the picture's axes, and what the lens was set to. */
export interface TrackedSample extends MoveSample {
  readonly focusM?: number;
  readonly fStop?: number;
  readonly tStop?: number;
}

/** What a source says once of its camera and lens. */
export interface TrackedCamera {
  /** Camera letter. */
  readonly label?: string;
  readonly model?: string;
  readonly serial?: string;
  readonly sensor?: SensorArea;
  readonly squeeze?: number;
  readonly shutterDeg?: number;
  readonly sensorRate?: FrameRate;
  readonly ei?: number;
  readonly lensModel?: string;
  readonly lensSerial?: string;
  readonly nominalFocalLengthMm?: number;
}

/**
 * The move one source recorded: samples in the order of their frames, each frame once. `counted` says what the frames are counted by: `timecode` from
 * midnight in labels of `format` (full rate: pairs of samples under one label are two frames), `sequence` by the number each sample carries, `order` by
 * nothing but their order in the file.
 */
export interface TrackedMove {
  readonly source: string;
  readonly slate?: string;
  readonly rate: FrameRate;
  readonly counted: 'timecode' | 'sequence' | 'order';
  readonly format?: TimecodeFormat;
  readonly samples: readonly TrackedSample[];
  /** Frames within the move that have no sample. */
  readonly holes: readonly FrameRange[];
  readonly camera: TrackedCamera;
}

/**
 * A tracked move and where it was read. `file` is relative to the media root (of a recording of one sample a file, its first); `stem` is what that name begins
 * with, `folder` where it lies.
 */
export interface RecordedMove extends TrackedMove {
  readonly file: string;
  readonly folder: string;
  readonly stem: string;
}

/** A recorded move and the clip it is the move of, with what tells so. */
export interface TiedMove {
  readonly move: RecordedMove;
  readonly clip: ClipId;
  readonly evidence: string;
}
