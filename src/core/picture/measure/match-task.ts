import type { ClipFrames } from './clip-frames.ts';

/** A lead, the swapped pass matched to it, their clean plate and elements, decoded, and what is known of them. */
export interface MatchTask {
  readonly lead: ClipFrames;
  readonly pass: ClipFrames | undefined;
  readonly clean: ClipFrames | undefined;
  /** Performers alone against a screen. */
  readonly elements: readonly ClipFrames[];
  /** Frame of the pass = frame of the lead + offset. */
  readonly offset: number;
  /** Whether sound or camera motion may say another offset, since this one is a guess. */
  readonly offsetIsGuess: boolean;
  /** Frames a second of both passes; undefined when they differ or nobody says. */
  readonly rate: { readonly num: number; readonly den: number } | undefined;
  /** Frames of the lead that matter, `end` exclusive. */
  readonly range: { readonly start: number; readonly end: number };
  readonly movingCamera: boolean;
  /** Whether the passes are to be joined along a line. */
  readonly wantsLine: boolean;
  /** Columns of the plate, in px, between which the line must run, when a person says so. */
  readonly within?: { readonly first: number; readonly last: number };
}
