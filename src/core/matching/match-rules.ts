import type { Correction } from '../material/correction.ts';
import type { RoleWord } from '../material/group-rules.ts';
import type { Tolerances } from '../material/tolerance.ts';
import type { Handles } from '../timecode/range.ts';

/** What matching goes by. A pipeline's configuration satisfies it as it stands. */
export interface MatchRules {
  /** In points of cost; a whole point is evidence enough to decide. */
  readonly ambiguityMargin: number;
  readonly tolerances: Pick<Tolerances, 'focalLengthPercent'>;
  readonly corrections: readonly Correction[];
  readonly minCleanFrames: number;
  readonly handles: Handles;
  readonly roleWords: readonly RoleWord[];
}
