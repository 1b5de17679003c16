import { coverPass, framesCovered } from '../coverage/cover-pass.ts';
import type { NeededRange } from '../coverage/coverage.ts';
import { spanOf } from '../coverage/span.ts';
import type { Clip, Role } from '../material/clip.ts';
import type { Method } from '../material/method.ts';
import type { CostTerm, Sync } from '../material/plate-set.ts';
import { lengthOf } from '../timecode/range.ts';
import { compareText } from './sorted.ts';
import type { PassPair } from './sync.ts';

/** What is asked of the passes of a lead. */
export interface CoverageNeed {
  readonly needed: readonly NeededRange[];
  readonly method: Method;
  readonly minCleanFrames: number;
}

/** What it costs that a pass does not hold what is needed of it, laid under the lead by their sync; of several ranges the worst. */
export function coverageTerm({ clip, role }: PassPair, sync: Sync, need: CoverageNeed): CostTerm | undefined {
  if (role === 'reference') return undefined;
  if (spanOf(clip) === undefined) return { name: 'coverage', cost: 0.1, words: 'its length is not known' };
  if (role === 'clean' && !need.method.movingCamera) return cleanPlateTerm(clip.frames ?? 0, need.minCleanFrames);
  const terms = need.needed.flatMap((needed) => rangeTerm(clip, role, sync, needed) ?? []);
  return terms.toSorted((a, b) => b.cost - a.cost || compareText(a.words, b.words))[0];
}

const HELD: CostTerm = { name: 'coverage', cost: 0, words: 'covers all that is needed' };

/** A locked-off clean plate can be held or averaged, so its length alone counts. */
function cleanPlateTerm(frames: number, minCleanFrames: number): CostTerm {
  if (frames >= minCleanFrames) return HELD;
  return { name: 'coverage', cost: 10 + 2 * (1 - frames / minCleanFrames), words: `${frames} frames, and a clean plate needs ${minCleanFrames}` };
}

function rangeTerm(pass: Clip, role: Role, { offset }: Sync, needed: NeededRange): CostTerm | undefined {
  const coverage = coverPass(pass, role, offset, needed);
  if (coverage === undefined) return undefined;
  const covered = framesCovered(coverage);
  const { cut, handles, basis, shot } = needed;
  const missing = lengthOf(cut) - covered.cut;
  const missingHandles = handles.head + handles.tail - covered.handles;
  if (missing > 0) {
    const part = missing / lengthOf(cut);
    return basis === 'lead-take'
      ? { name: 'coverage', cost: 4 * part, words: `${missing} frames of the lead take not covered; no cut known` }
      : { name: 'coverage', cost: 10 + 2 * part, words: `${missing} frames of the cut range${shot === undefined ? '' : ` of ${shot}`} not covered` };
  }
  if (missingHandles <= 0) return HELD;
  return { name: 'coverage', cost: (0.25 * missingHandles) / (handles.head + handles.tail), words: `${missingHandles} frames of the handles not covered` };
}
