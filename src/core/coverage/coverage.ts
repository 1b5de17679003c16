import type { ClipId, Role } from '../material/clip.ts';
import type { FrameRange, Handles } from '../timecode/range.ts';

/** The frames a shot needs, counted from the first frame of its lead clip. */
export interface NeededRange {
  readonly lead: ClipId;
  /** The shot code, when the range comes from a shot list or a cut. */
  readonly shot?: string;
  readonly basis: 'cut' | 'shot-list' | 'lead-take';
  readonly cut: FrameRange;
  readonly handles: Handles;
  /** "shots.csv line 4", or "no cut known: the whole lead take". */
  readonly from: string;
}

/** How far one pass holds a needed range. All ranges are in frames of the lead. */
export interface PassCoverage {
  readonly clip: ClipId;
  readonly role: Role;
  readonly needed: NeededRange;
  /** The whole pass, laid under the lead by its sync. */
  readonly available: FrameRange;
  /** Cut frames that are not there, at the head and at the tail. */
  readonly missingHead: number;
  readonly missingTail: number;
  /** Handle frames that are not there. */
  readonly missingHeadHandle: number;
  readonly missingTailHandle: number;
  /** Holes inside the pass that fall into cut range or handles. */
  readonly gaps: readonly FrameRange[];
}
