import type { Clip } from '../material/clip.ts';
import type { CostTerm } from '../material/plate-set.ts';
import type { Tolerances } from '../material/tolerance.ts';
import { likenessTerms } from './likeness.ts';
import type { Recording } from './recording.ts';
import { recordedApart } from './recording.ts';
import { passedText } from './recording-text.ts';
import type { PassPair } from './sync.ts';

/**
 * What a pass costs beside a lead, lowest is best, in points. A whole point is evidence enough to decide; less than one in all
 * only breaks ties. Each term is larger than everything below it, so their order is the order of importance:
 *
 *   1000        laid over the lead in the cut: as much less, since an editor chose it
 *   400         written for another take ("for 27B-3"); as much less where it is written for this one
 *   200         not circled
 *   20 each     lens, focal length, frame rate, sensor rate, raster differ
 *   10 to 12    frames of the cut range (or of a clean plate's least length) missing
 *   0 to 4      no cut known: the part of the lead take that is not covered
 *   2 each      out of recording order, whole take against pick-up, another take number on the slate
 *   below 1     handles missing (0.25), value not stated (0.1 each), time between the two (below 0.25)
 */
export interface PassCost {
  readonly cost: number;
  readonly terms: readonly CostTerm[];
}

/** What is known of the set while its passes are compared. */
export interface CostKnowledge {
  readonly recording: Recording;
  /** Whether another lead take was recorded between the two. */
  readonly leadBetween: (lead: Clip, clip: Clip) => boolean;
  readonly tolerances: Pick<Tolerances, 'focalLengthPercent'>;
}

/** The cost of a pass beside a lead, and its terms in words, most important first. `coverage` is judged under their sync. */
export function costOf(pair: PassPair, coverage: CostTerm | undefined, known: CostKnowledge, inCut = false): PassCost {
  const { lead, clip } = pair;
  const terms = [
    inCut ? IN_CUT : undefined,
    namedTakeTerm(lead, clip),
    clip.circled === true ? CIRCLED : NOT_CIRCLED,
    ...likenessTerms(lead, clip, known.tolerances),
    coverage,
    pair.role === 'swapped' ? orderTerm(lead, clip, known) : undefined,
    pickUpTerm(lead, clip),
    slateTakeTerm(lead, clip),
    nearnessTerm(lead, clip, known.recording),
  ].filter((term) => term !== undefined);
  return { cost: rounded(terms.reduce((sum, { cost }) => sum + cost, 0)), terms };
}

/** Costs to a millionth of a point: no noise of the sum is left in what is written. */
export function rounded(cost: number): number {
  return Math.round(cost * 1e6) / 1e6;
}

const IN_CUT: CostTerm = { name: 'cut', cost: -1000, words: 'laid over the lead in the cut' };
const CIRCLED: CostTerm = { name: 'circled', cost: 0, words: 'circled' };
const NOT_CIRCLED: CostTerm = { name: 'circled', cost: 200, words: 'not circled' };
const IN_ORDER: CostTerm = { name: 'recording order', cost: 0, words: 'recorded after this lead and before the next' };
const BEFORE: CostTerm = { name: 'recording order', cost: 2, words: 'recorded before the lead' };
const LATER: CostTerm = { name: 'recording order', cost: 2, words: 'another lead take was recorded in between' };

/** A slate that names the take it is for says so on purpose. */
function namedTakeTerm(lead: Clip, { forSlate }: Clip): CostTerm | undefined {
  if (forSlate?.take === undefined) return undefined;
  const same = forSlate.take === lead.slate?.take;
  return { name: 'named take', cost: same ? -400 : 400, words: `slated for take ${forSlate.take}${same ? ', this one' : ''}` };
}

/** The lead pass is shot first and its partner next, before another lead take. Common practice, no source. */
function orderTerm(lead: Clip, clip: Clip, { recording, leadBetween }: CostKnowledge): CostTerm {
  if ((recording.placeOf.get(clip.id) ?? 0) < (recording.placeOf.get(lead.id) ?? 0)) return BEFORE;
  return leadBetween(lead, clip) ? LATER : IN_ORDER;
}

function pickUpTerm(lead: Clip, clip: Clip): CostTerm | undefined {
  if (lead.slate === undefined || clip.slate === undefined || lead.slate.pickUp === clip.slate.pickUp) return undefined;
  return { name: 'pick-up', cost: 2, words: clip.slate.pickUp ? 'a pick-up beside a whole take' : 'a whole take beside a pick-up' };
}

/** "27B-3SW" is the swapped pass of take 3; in "27BSW-3" the passes are counted on their own and the number says nothing. */
function slateTakeTerm(lead: Clip, { slate }: Clip): CostTerm | undefined {
  if (slate?.take === undefined || lead.slate?.take === undefined || slate.suffix === '') return undefined;
  if (!slate.text.trim().toUpperCase().endsWith(slate.suffix.toUpperCase())) return undefined;
  const same = slate.take === lead.slate.take;
  return { name: 'slate take', cost: same ? 0 : 2, words: same ? `slated as take ${slate.take} too` : `slated as take ${slate.take}, not ${lead.slate.take}` };
}

/** Half of what it can cost is reached an hour, or ten clips, away. */
function nearnessTerm(lead: Clip, clip: Clip, recording: Recording): CostTerm {
  const apart = recordedApart(recording, lead, clip);
  const amount = 'seconds' in apart ? apart.seconds / (apart.seconds + 3600) : apart.clips / (apart.clips + 10);
  const later = (recording.placeOf.get(clip.id) ?? 0) > (recording.placeOf.get(lead.id) ?? 0);
  return { name: 'nearness', cost: rounded(0.25 * amount), words: `recorded ${passedText(apart)} ${later ? 'after' : 'before'} the lead` };
}
