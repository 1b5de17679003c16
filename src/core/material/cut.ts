import type { FrameRange } from '../timecode/range.ts';
import type { FrameRate } from '../timecode/rate.ts';
import type { ClipId } from './clip-id.ts';

/** How the cut plays a clip at another speed than it was recorded at. A freeze holds its first frame. */
export type Retime =
  | { readonly kind: 'speed'; readonly ratio: number; readonly words: string }
  | { readonly kind: 'freeze'; readonly words: string };

/** ASC CDL values as the cut carries them: slope, offset and power for red, green and blue, and one saturation. Nothing is applied to pictures. */
export interface ColourDecision {
  readonly slope: readonly [number, number, number];
  readonly offset: readonly [number, number, number];
  readonly power: readonly [number, number, number];
  readonly saturation: number;
  readonly from: string;
}

/** One clip as a shot of the cut uses it. */
export interface CutLayer {
  readonly clip: ClipId;
  /** "V1". */
  readonly track: string;
  /** The frames the cut shows, from the clip's first frame, retime and dissolves worked in. `end` is exclusive. */
  readonly source: FrameRange;
  /** Frame of the clip that lies at the first frame of the shot's record range, before a dissolve extends it. */
  readonly atRecordIn: number;
  readonly retime?: Retime;
  /** Frames the range was extended by, where a dissolve begins before or ends after the shot. */
  readonly dissolve: { readonly head: number; readonly tail: number };
  readonly disabled: boolean;
  /** "cut_v1.edl line 12", and why this clip: "reel A014R1AB and source timecode". */
  readonly from: string;
  readonly tiedBy: string;
}

/** One shot of a cut: what lies over each other between two edit points, and which clip leads it. */
export interface CutShot {
  readonly shot: string;
  /** Which rule gave the code: "marker", "comment", "clip name", "shot list", or "event number, assumed". */
  readonly shotFrom: string;
  /** Where it lies in the cut, in frames of the cut's rate from 00:00:00:00; `end` is exclusive. */
  readonly record: FrameRange;
  readonly rate: FrameRate;
  readonly recordDropFrame: boolean;
  readonly lead: ClipId;
  /** Bottom track first; the lead's layer is among them. */
  readonly layers: readonly CutLayer[];
  readonly cdl?: ColourDecision;
  /** Marker and comment texts that are about this shot. */
  readonly notes: readonly string[];
  readonly from: string;
}

/** An event of a cut that is tied to no clip: it could not be read, or none or several answer to it. */
export interface UntiedEvent {
  /** The code it carries or its row of the shot list has; else "EVENT_012", or its place where not even a number can be read. */
  readonly shot: string;
  /** Whether `shot` is a code that somebody gave. */
  readonly coded: boolean;
  /** Whether the shot list names it, and whose it then is. */
  readonly listed: boolean;
  readonly vendor?: string;
  /** Whether a shot may be lost with it; else it lies over others, and only what it tells of their sync is lost. */
  readonly makesShot: boolean;
  /** "cut_v1.edl line 12". */
  readonly from: string;
  /** "could not be read", "names no clip that is here". */
  readonly short: string;
  readonly why: string;
  readonly remedy: string;
}

/** What a cut says besides the shots of plate sets: absent without a cut. */
export interface CutRest {
  readonly untied: readonly UntiedEvent[];
  /** Shots whose clip is here and belongs to no plate set. */
  readonly ordinary: readonly Pick<CutShot, 'shot' | 'shotFrom' | 'lead' | 'from'>[];
}
