import type { Clip, Role } from '../material/clip.ts';
import type { CostTerm, PassMatch, Sync } from '../material/plate-set.ts';
import { rounded } from './cost.ts';
import { sameRecording } from './same-recording.ts';
import { compareText } from './sorted.ts';

/** A pass that may stand beside a lead, priced. */
export interface Candidate {
  readonly clip: Clip;
  readonly role: Role;
  readonly sync: Sync;
  readonly cost: number;
  readonly terms: readonly CostTerm[];
  readonly confirmed: boolean;
}

/**
 * The cheapest candidate, a confirmed one before all others, with its runner-up; undefined when there is none. A copy of the
 * chosen clip is no runner-up. The margin is left out where there is nothing to decide.
 */
export function choosePass(candidates: readonly Candidate[], ambiguityMargin: number): PassMatch | undefined {
  const [first, ...others] = candidates.toSorted(compareCandidates);
  if (first === undefined) return undefined;
  const second = others.find(({ clip }) => !sameRecording(clip, first.clip));
  if (second === undefined) return asMatch(first);
  const match = { ...asMatch(first), runnerUp: { clip: second.clip.id, cost: second.cost } };
  return first.confirmed || eitherWouldDo(first, second, ambiguityMargin) ? match : { ...match, margin: rounded(second.cost - first.cost) };
}

/** Confirmed first, then by cost, then by file. */
export function compareCandidates(a: Candidate, b: Candidate): number {
  return Number(b.confirmed) - Number(a.confirmed) || a.cost - b.cost || compareText(a.clip.id, b.clip.id);
}

export function asMatch({ clip, role, sync, cost, terms, confirmed }: Candidate): PassMatch {
  return { clip: clip.id, role, sync, cost, terms, confirmed };
}

/** What makes one empty frame better than another; which of two was circled or shot nearer does not. */
const WORTH: ReadonlySet<string> = new Set(['lens', 'focal length', 'frame rate', 'sensor rate', 'raster', 'coverage']);

/** Nobody performs in a clean plate, so of two that are alike either serves and there is nothing to decide. */
function eitherWouldDo(first: Candidate, second: Candidate, ambiguityMargin: number): boolean {
  return first.role === 'clean' && Math.abs(worth(first) - worth(second)) < ambiguityMargin;
}

function worth({ terms }: Candidate): number {
  return terms.reduce((sum, { name, cost }) => (WORTH.has(name) ? sum + cost : sum), 0);
}
