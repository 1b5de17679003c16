import type { Clip, Disagreement, Role } from '../material/clip.ts';
import type { Quantity, ReadingProblem, Severity } from '../material/finding.ts';
import type { PlateSet, ProposedMatch } from '../material/plate-set.ts';
import type { NeededRange, PassCoverage } from '../coverage/coverage.ts';
import type { FrameRate } from '../timecode/rate.ts';
import type { MatchedPasses } from './passes.ts';
import type { PictureFault } from './picture-faults.ts';
import type { DifferenceCode } from './relevance.ts';

/** What every fault carries besides what its code needs to be put into words. */
export interface Raised {
  readonly severity: Severity;
  readonly subject: readonly Clip[];
  readonly measured: Quantity;
  readonly allowed: Quantity;
  readonly evidence: readonly string[];
}

/** A pass differs from its lead in `what` ("focal length"). The texts are the values as people write them: "T2.8", "35 mm". */
export interface Difference extends Raised {
  readonly code: DifferenceCode;
  readonly passes: MatchedPasses;
  readonly what: string;
  readonly leadText: string;
  readonly passText: string;
  /** Which way and how much, in words: "1 stop darker"; "" where the two texts say all. */
  readonly by: string;
  /** What it costs in px or stops, in sentences; "" when that is not known. */
  readonly cost: string;
  /** Where in the frame it shows most; absent when nobody can tell. */
  readonly worst?: string;
  /** Where along the take, "" when it holds throughout. */
  readonly where: string;
}

/** A required or wanted pass that is not there, for one lead or (without `lead`) for the set. */
export interface MissingPass extends Raised {
  readonly code: 'missing-swapped-pass' | 'missing-clean-plate' | 'missing-reference';
  readonly role: Role;
  readonly set: PlateSet;
  readonly lead?: Clip;
  /** Of a set without a lead: a clip of it seems to belong elsewhere. */
  readonly belongs?: Belonging;
  /** What to photograph, in words: "reference (grey ball and chrome ball)". */
  readonly what: string;
  /** Frames that are enough of a locked-off clean plate. */
  readonly minCleanFrames: number;
  /** A clip of another slate that may be it, and what it would be; nothing is shot before somebody has looked. */
  readonly proposed?: Clip;
  /** Clips of the set that may be it but cannot be judged. */
  readonly unread: readonly Clip[];
}

/** A clip under a wrong slate, as it seems: the lead it may belong to. */
export interface Belonging {
  readonly clip: Clip;
  readonly lead: Clip;
  readonly role: Role;
}

/** A pass that leaves frames of a needed range uncovered. `role` is `lead` for the lead itself. */
export interface ShortPass extends Raised {
  readonly code: 'short-head' | 'short-tail' | 'no-overlap';
  readonly clip: Clip;
  readonly lead: Clip;
  readonly coverage: PassCoverage;
  /** Frames of the cut range that are missing at this end; handle frames that are missing there. */
  readonly cutFrames: number;
  readonly handleFrames: number;
}

/** A finding before it is put into words. Severity, subject and figures are decided; only the sentences are not. */
export type Fault =
  | Difference
  | MissingPass
  | ShortPass
  | (Raised & PictureFault)
  /** The lead plays at another rate than the show is cut at. */
  | (Raised & { readonly code: 'frame-rate-differs'; readonly clip: Clip; readonly show: FrameRate })
  | (Raised & { readonly code: 'no-timecode' | 'unknown-slate'; readonly clip: Clip })
  | (Raised & { readonly code: 'sources-disagree'; readonly clip: Clip; readonly disagreement: Disagreement })
  | (Raised & { readonly code: 'duplicate-clip'; readonly first: Clip; readonly second: Clip })
  | (Raised & { readonly code: 'missing-lead-pass'; readonly slate: string; readonly camera: string; readonly shot: string; readonly belongs?: Belonging })
  | (Raised & { readonly code: 'unmatched-pass'; readonly clip: Clip | undefined; readonly why: string; readonly needed: boolean })
  | (Raised & { readonly code: 'ambiguous-match'; readonly lead: Clip; readonly chosen: Clip; readonly runnerUp: Clip; readonly role: Role })
  | (Raised & { readonly code: 'proposed-match'; readonly lead: Clip; readonly clip: Clip; readonly proposal: ProposedMatch })
  | (Raised & { readonly code: 'role-conflict'; readonly clip: Clip; readonly roles: readonly Role[] })
  | (Raised & { readonly code: 'role-guessed'; readonly clips: readonly Clip[] })
  | (Raised & { readonly code: 'frame-gap'; readonly clip: Clip; readonly numbers: string })
  | (Raised & { readonly code: 'clean-plate-short'; readonly clip: Clip; readonly passes: MatchedPasses; readonly needed?: NeededRange })
  | (Raised & { readonly code: 'sync-assumed' | 'sync-contradicted'; readonly passes: MatchedPasses })
  | (Raised & { readonly code: 'length-disagrees'; readonly clip: Clip })
  | (Raised & { readonly code: 'timecode-overlap' | 'timecode-backwards'; readonly earlier: Clip; readonly later: Clip; readonly highSpeed: boolean })
  | (Raised & { readonly code: 'move-differs'; readonly set: PlateSet })
  | (Raised & { readonly code: 'not-on-record'; readonly lead: Clip });

/** Something that could not be read, with the clip it concerns. */
export interface UnreadFault {
  readonly problem: ReadingProblem;
  readonly clip: Clip;
}
