import type { Role } from './clip.ts';
import type { FindingGroup, Severity } from './finding.ts';

/** How a shot will be put together, and so what it needs. Data: a pipeline file adds or changes methods. */
export interface Method {
  readonly name: string;
  /** One line for people: "plain split line". */
  readonly description: string;
  /** Roles without which the set cannot be struck. */
  readonly required: readonly Role[];
  /** Roles worth having; absent is a `warn`. */
  readonly wanted: readonly Role[];
  /** Whether the camera moves: then the clean plate must cover the range, and marks or a move are compared. */
  readonly movingCamera: boolean;
  /** Whether the passes are repeats of one move with timecode triggered alike, so that equal timecode is meant. */
  readonly repeatedMove: boolean;
  /** Whether `missing-swapped-pass` is answered by an element too. */
  readonly elementReplacesSwapped: boolean;
  /** Groups of checks that do not apply. */
  readonly skipChecks: readonly FindingGroup[];
  /** Severity of `sync-assumed`: a locked-off split needs no sync until there is action in common. */
  readonly syncAssumed: Severity;
  /** How many reference clips are asked for, and what they are, for the remedy's words ("grey ball", "chrome ball"). */
  readonly references: readonly string[];
}
