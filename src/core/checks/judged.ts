import type { NeededRange, PassCoverage } from '../coverage/coverage.ts';
import type { Clip, ClipId, Role } from '../material/clip.ts';
import type { Correction } from '../material/correction.ts';
import type { CutRest } from '../material/cut.ts';
import type { Unplaced } from '../material/day.ts';
import type { Finding } from '../material/finding.ts';
import type { MatchedSet } from '../material/plate-set.ts';
import type { MoveMark, ShotRow } from '../material/shot-list.ts';
import type { LeadPictures } from './lead-pictures.ts';
import type { PassAlong } from './pass-along.ts';

export type Verdict = 'yes' | 'no' | 'look';

/** A matched set, judged. Findings are sorted: severity (worst first), code, subject. */
export interface JudgedSet {
  readonly matched: MatchedSet;
  readonly verdict: Verdict;
  /** One sentence: why the verdict is what it is. */
  readonly reason: string;
  readonly findings: readonly Finding[];
  /** Leads by which the set is judged; other takes' differences are notes. */
  readonly countingLeads: readonly ClipId[];
  /** What was needed and how far each matched pass holds it. */
  readonly needed: readonly NeededRange[];
  readonly coverage: readonly PassCoverage[];
  /** Roles of the method that no usable pass fills. */
  readonly missingRoles: readonly Role[];
  /** Frames that are enough of the clean plate this set lacks; absent when it lacks none, or its camera moves. */
  readonly enoughCleanFrames?: number;
  readonly correctionsUsed: readonly Correction[];
  readonly shots: readonly ShotRow[];
  readonly marks: readonly MoveMark[];
  /** What runs along the passes: lens values that change, and moves; absent when nothing does. */
  readonly along?: readonly PassAlong[];
  /** What pictures say, a lead each; absent when none were looked at. */
  readonly pictures?: readonly LeadPictures[];
}

/** The whole day, judged: everything that goes out is drawn from it. */
export interface JudgedDay {
  readonly clips: readonly Clip[];
  readonly sets: readonly JudgedSet[];
  readonly unplaced: readonly Unplaced[];
  /** Findings that belong to no set. */
  readonly findings: readonly Finding[];
  /** Report rows that seem to speak of a clip of the day and are used for none; absent when there are none. */
  readonly unusedRows?: number;
  /** What the cut says besides the shots of the sets; absent without one. */
  readonly cutRest?: CutRest;
}
