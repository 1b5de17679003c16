import type { Clip, ClipId, ReadClip } from './clip.ts';
import type { CutRest } from './cut.ts';
import type { Cut } from './cut-event.ts';
import type { Finding, ReadingProblem } from './finding.ts';
import type { MatchedSet, PlateSet } from './plate-set.ts';
import type { MoveMark, ShotRow } from './shot-list.ts';
import type { FrameTrack, SourceKind, Statement } from './statement.ts';
import type { RecordedMove, TiedMove } from './tracked-move.ts';

/**
 * What one sidecar, one report row or one camera export says about one clip. Which clip, the statements tell (file, roll and
 * clip, slate and take, camera, timecode); `stem` is the base name of a sidecar or export that names its clip by its own name,
 * and `folder` the folder it lies in (relative to the media root, "" for the root).
 */
export interface ClipNote {
  readonly kind: SourceKind;
  readonly file: string;
  /** "line 4", "" for a whole sidecar. */
  readonly place: string;
  readonly folder: string;
  readonly stem?: string;
  readonly statements: readonly Statement[];
  readonly tracks: readonly FrameTrack[];
}

/** Everything the read step brings in. Nothing is decided here. */
export interface ReadDay {
  readonly clips: readonly ReadClip[];
  readonly notes: readonly ClipNote[];
  readonly shots: readonly ShotRow[];
  readonly marks: readonly MoveMark[];
  /** Moves that trackers recorded; absent when there are none. */
  readonly moves?: readonly RecordedMove[];
  readonly problems: readonly ReadingProblem[];
  /** Edit lists and timelines; absent or empty without a cut. */
  readonly cuts?: readonly Cut[];
}

export interface Unplaced {
  readonly clip: ClipId;
  readonly why: string;
  /** True when its set-up is like any other: nothing says that it is a plate set, so no pass is missing. */
  readonly ordinary?: boolean;
}

/** Clips with their facts chosen, and the plate sets they form. Every clip is in a set or unplaced, never both, never neither. */
export interface GroupedDay {
  readonly clips: readonly Clip[];
  readonly sets: readonly PlateSet[];
  readonly unplaced: readonly Unplaced[];
  readonly shots: readonly ShotRow[];
  readonly marks: readonly MoveMark[];
  /** Recorded moves, each with its clip; absent when there are none. */
  readonly moves?: readonly TiedMove[];
  /** Findings that belong to no set (reports without clips, unreadable files). */
  readonly findings: readonly Finding[];
  /** What the cut says besides; absent without one. */
  readonly cutRest?: CutRest;
  /** Corrections that found their clip, by id, and those that did not. */
  readonly correctionsUsed: readonly { readonly id: string; readonly clips: readonly ClipId[] }[];
  /** Report rows that seem to speak of a clip of the day and are used for none; absent when there are none. */
  readonly unusedRows?: number;
}

export interface MatchedDay {
  readonly grouped: GroupedDay;
  readonly sets: readonly MatchedSet[];
}
