import type { Clip, ClipId, Role } from './clip.ts';
import type { Method } from './method.ts';

/** All passes of one set-up on one camera, before they are matched. `key` is stable: set-up and camera letter. */
export interface PlateSet {
  /** "27B-A": set-up key and camera letter. */
  readonly id: string;
  /** What people call it: "27B". */
  readonly slate: string;
  readonly camera: string;
  readonly method: Method;
  /** How the method was decided, in words ("default", "shot list line 3"). */
  readonly methodFrom: string;
  /** Sorted by recording order, then by file. */
  readonly clips: readonly Clip[];
}

export type SyncMethod = 'correction' | 'cut' | 'equal-timecode' | 'sync-mark' | 'guide-audio' | 'camera-motion' | 'assumed';

/** Which frame lies under which: partner frame = lead frame + offset, both counted from their clip's first frame. */
export interface Sync {
  readonly method: SyncMethod;
  readonly offset: number;
  /** 0..1. */
  readonly confidence: number;
  readonly words: string;
  /** Other kinds of evidence that say another offset and are too sure to be passed over. */
  readonly contradictedBy?: readonly Sync[];
}

/** One term of a cost, in words people can check ("lens serial differs: +4"). */
export interface CostTerm {
  readonly name: string;
  readonly cost: number;
  readonly words: string;
}

/** A pass chosen for a lead, what else could have been chosen, and how clear the choice was. */
export interface PassMatch {
  readonly clip: ClipId;
  readonly role: Role;
  readonly sync: Sync;
  readonly cost: number;
  readonly terms: readonly CostTerm[];
  readonly runnerUp?: { readonly clip: ClipId; readonly cost: number };
  /** Runner-up's cost minus this one's; absent without a runner-up, and where there is nothing to decide (confirmed; two clean plates alike). */
  readonly margin?: number;
  /** Confirmed by a person in the corrections file. */
  readonly confirmed: boolean;
}

/** One lead take with all that was matched to it. */
export interface LeadMatch {
  readonly lead: ClipId;
  readonly swapped?: PassMatch;
  readonly clean?: PassMatch;
  readonly elements: readonly PassMatch[];
  readonly references: readonly PassMatch[];
}

/** A match across set-ups that only a person may take. */
export interface ProposedMatch {
  readonly lead: ClipId;
  readonly clip: ClipId;
  readonly role: Role;
  readonly why: string;
}

/** A plate set with its passes matched. */
export interface MatchedSet {
  readonly set: PlateSet;
  readonly matches: readonly LeadMatch[];
  readonly proposed: readonly ProposedMatch[];
  /** Passes of this set that ended beside no lead, with the reason. */
  readonly leftOver: readonly { readonly clip: ClipId; readonly why: string }[];
}
