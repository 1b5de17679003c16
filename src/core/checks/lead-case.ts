import type { NeededRange, PassCoverage } from '../coverage/coverage.ts';
import { coverLead, coverPass } from '../coverage/cover-pass.ts';
import { neededRanges } from '../coverage/needed-ranges.ts';
import { spanOf } from '../coverage/span.ts';
import { passesOf } from '../matching/left-over.ts';
import type { Clip } from '../material/clip.ts';
import type { ReadingProblem } from '../material/finding.ts';
import type { LeadMatch, MatchedSet, PassMatch } from '../material/plate-set.ts';
import type { ShotRow } from '../material/shot-list.ts';
import type { FrameRange, Handles } from '../timecode/range.ts';
import { pullRange } from '../timecode/range.ts';
import { sameRate } from '../timecode/rate.ts';
import type { ClipOf } from './check-rules.ts';
import { mustCover } from './coverage.ts';
import type { MatchedPasses } from './passes.ts';

/** One lead take, what is needed of it, and how far it and its passes hold that. `problems` are of rows that could not be read. */
export interface LeadCase {
  readonly match: LeadMatch;
  readonly lead: Clip;
  readonly needed: readonly NeededRange[];
  readonly problems: readonly ReadingProblem[];
  readonly own: readonly PassCoverage[];
  readonly passes: readonly PassCase[];
}

/** One pass matched to it. */
export interface PassCase {
  readonly match: PassMatch;
  readonly passes: MatchedPasses;
  readonly coverage: readonly PassCoverage[];
}

/** The lead takes of a set with their passes, laid out for the checks. */
export function layOutCases(matched: MatchedSet, shots: readonly ShotRow[], clipOf: ClipOf, handles: Handles): readonly LeadCase[] {
  const leads = matched.matches.flatMap(({ lead }) => clipOf(lead) ?? []);
  return matched.matches.flatMap((match) => {
    const lead = clipOf(match.lead);
    if (lead === undefined) return [];
    const { ranges, problems } = neededRanges(lead, shots, handles, leads.filter(({ id }) => id !== lead.id));
    const passes = passesOf(match).flatMap((pass) => passCase(matched, lead, pass, ranges, clipOf));
    return [{ match, lead, needed: ranges, problems, own: ranges.flatMap((needed) => coverLead(lead, needed) ?? []), passes }];
  });
}

function passCase({ set }: MatchedSet, lead: Clip, match: PassMatch, ranges: readonly NeededRange[], clipOf: ClipOf): readonly PassCase[] {
  const pass = clipOf(match.clip);
  if (pass === undefined) return [];
  const { role, sync } = match;
  const passes: MatchedPasses = { lead, pass, role, sync, method: set.method, frames: framesThatMatter(lead, ranges) };
  // Frames of another rate cannot be laid under the lead's: `frame-rate-differs` says so, and nothing more can be said.
  const coverage = role === 'reference' || ratesDiffer(passes) ? [] : ranges.flatMap((needed) => coverPass(pass, role, sync.offset, needed) ?? []);
  return [{ match, passes, coverage }];
}

/** Whether both passes say at which rate they play, and it is not the same. */
export function ratesDiffer({ lead, pass }: MatchedPasses): boolean {
  return lead.rate !== undefined && pass.rate !== undefined && !sameRate(lead.rate, pass.rate);
}

/** From the first to the last frame of the lead that any shot needs, handles included. */
function framesThatMatter(lead: Clip, ranges: readonly NeededRange[]): FrameRange {
  const whole = { start: 0, end: spanOf(lead) ?? Number.MAX_SAFE_INTEGER };
  if (ranges.length === 0) return whole;
  const pulls = ranges.map(({ cut, handles }) => pullRange(cut, handles));
  return {
    start: Math.max(0, Math.min(...pulls.map(({ start }) => start))),
    end: Math.min(whole.end, Math.max(...pulls.map(({ end }) => end))),
  };
}

/** The clips of the set, and those of other sets that a person confirmed into it. */
export function clipsOf({ set }: MatchedSet, cases: readonly LeadCase[]): readonly Clip[] {
  const clips = new Map(set.clips.map((clip) => [clip.id, clip]));
  for (const { lead, passes } of cases) {
    for (const clip of [lead, ...passes.map((one) => one.passes.pass)]) clips.set(clip.id, clip);
  }
  return [...clips.values()];
}

/** How a clip covers what is needed of these leads, where it must cover it at all. */
export function coverageOf(clip: Clip, cases: readonly LeadCase[]): readonly PassCoverage[] {
  return cases.flatMap(({ lead, own, passes }) => [
    ...(lead.id === clip.id ? own : []),
    ...passes.filter((one) => one.passes.pass.id === clip.id && mustCover(one.passes)).flatMap(({ coverage }) => coverage),
  ]);
}

/** Leads and the passes joined to them; a clean plate and references are not joined by their move. */
export function joinedClips(cases: readonly LeadCase[]): readonly Clip[] {
  const isJoined = ({ match }: PassCase): boolean => match.role === 'swapped' || match.role === 'element';
  return [...new Set(cases.flatMap(({ lead, passes }) => [lead, ...passes.filter(isJoined).map((one) => one.passes.pass)]))];
}
