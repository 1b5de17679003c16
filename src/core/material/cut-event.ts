import type { FrameRange } from '../timecode/range.ts';
import type { FrameRate } from '../timecode/rate.ts';
import type { TimecodeFormat } from '../timecode/timecode.ts';
import type { ColourDecision, Retime } from './cut.ts';
import type { ReadingProblem } from './finding.ts';

/** What an edit list says, before any clip is known. Everything is counted in whole frames; all ends are exclusive. */
export interface Cut {
  /** Name of the file, as it is shown. */
  readonly file: string;
  readonly title?: string;
  readonly rate: FrameRate;
  /** How record timecode is written. */
  readonly format: TimecodeFormat;
  /** Picture events in record order, each track by itself, bottom track first. */
  readonly events: readonly CutEvent[];
  /** Filler between events of one track. */
  readonly gaps: readonly { readonly place: string; readonly track: string; readonly frames: number }[];
  /** Events that were met and could not be used; each has a problem. */
  readonly skipped: number;
  /** The same events, as far as they can be told; absent when every event was read. */
  readonly unread?: readonly UnreadEvent[];
  readonly problems: readonly ReadingProblem[];
}

/** An event that was met and could not be read, with the texts below it in which a shot code may stand. */
export interface UnreadEvent {
  /** Why; the same as among the problems of the cut. */
  readonly problem: ReadingProblem;
  /** As written; absent where not even that can be read, or where it is more than one event. */
  readonly number?: string;
  readonly clipName?: string;
  readonly markers: readonly string[];
  readonly comments: readonly string[];
}

/** One event: which frames of which source lie where in the cut. */
export interface CutEvent {
  readonly file: string;
  /** "line 12", "tracks 1, child 3". */
  readonly place: string;
  /** As written: "003". */
  readonly number: string;
  /** "V1". */
  readonly track: string;
  readonly reel?: string;
  readonly clipName?: string;
  /** Path, URL or name of the media file, as far as it is stated; "/" between folders. */
  readonly sourceFile?: string;
  /** `filler` is black, bars or made in the edit: no clip is to be found for it. */
  readonly content: 'clip' | 'filler';
  readonly source: SourceRange;
  /** Frames of the cut's rate, from 00:00:00:00. */
  readonly record: FrameRange;
  readonly retime?: Retime;
  /** Frames of the cut that are seen of this source before its record in and after its record out, under a transition. */
  readonly dissolve: { readonly head: number; readonly tail: number };
  /** "dissolve of 10 frames at its head". */
  readonly transition?: string;
  readonly disabled: boolean;
  readonly markers: readonly CutMarker[];
  readonly comments: readonly string[];
  readonly cdl?: ColourDecision;
}

/** The frames of the source that the event shows from record in to record out, a retime worked in. */
export interface SourceRange {
  /** Counted from 00:00:00:00 of the source's timecode, or from whatever zero `available` counts from. */
  readonly range: FrameRange;
  readonly rate: FrameRate;
  readonly format: TimecodeFormat;
  /**
   * `stated`: labels, and the list says itself whether they are drop frame. `assumed`: labels, taken to count as the list does.
   * `frames`: frames of the source, which are the same however its labels are written.
   */
  readonly counting: 'stated' | 'assumed' | 'frames';
  /** What the list says is there of the source, on the same count. */
  readonly available?: FrameRange;
  /** Number in the file name of the first picture of `available`, for an image sequence. */
  readonly firstNumber?: number;
}

/** A note at a frame of the cut. */
export interface CutMarker {
  readonly frame: number;
  readonly text: string;
}
