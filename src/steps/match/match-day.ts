import type { Clip, ClipId } from '../../core/material/clip.ts';
import type { GroupedDay, MatchedDay } from '../../core/material/day.ts';
import { effectiveRoles } from '../../core/matching/effective-roles.ts';
import { leftOverOf, passesOf } from '../../core/matching/left-over.ts';
import { markFinder } from '../../core/matching/marks-of-clip.ts';
import type { MatchRules } from '../../core/matching/match-rules.ts';
import type { DayKnowledge } from '../../core/matching/match-set.ts';
import { matchSet } from '../../core/matching/match-set.ts';
import type { PairCorrections } from '../../core/matching/pair-corrections.ts';
import { pairCorrections, pairKey } from '../../core/matching/pair-corrections.ts';
import { proposeMatches } from '../../core/matching/propose.ts';
import { rowFinder } from '../../core/matching/rows-by-lead.ts';
import { compareText, groupBy } from '../../core/matching/sorted.ts';
import type { SyncEvidence } from '../../core/matching/sync.ts';
import { sparePasses, wantingLeads } from './unmatched.ts';
import { moveConfirmed } from './move-confirmed.ts';

/**
 * Finds for every lead take of the day its swapped pass, clean plate, elements and references, with sync, and proposes matches
 * across set-ups where a slate may have been misread. The order of clips, sets and rows never matters. `evidence` is what other
 * steps found out about how passes lie over each other.
 */
export function matchDay(grouped: GroupedDay, rules: MatchRules, evidence: readonly SyncEvidence[] = []): MatchedDay {
  const corrections = pairCorrections(rules.corrections, grouped.clips);
  const roleOf = effectiveRoles(corrections);
  const day = moveConfirmed(grouped, corrections, roleOf);
  const clips = new Map(day.clips.map((clip) => [clip.id, clip]));
  const known = knowledgeOf(day, rules, corrections, roleOf, clips, evidence);
  const sets = day.sets.toSorted((a, b) => compareText(a.id, b.id)).map((set) => ({ set, ...matchSet(set, known) }));
  const matched = new Set(sets.flatMap(({ matches }) => matches.flatMap(passesOf)).map(({ clip }) => clip));
  const leftKnowledge = { roleOf, matched, corrections, clipOf: (id: string) => clips.get(id) };
  const outcomes = sets.map((one) => ({ ...one, leftOver: leftOverOf(one.set, one.leads, one.matches, leftKnowledge) }));
  const proposed = proposeMatches(wantingLeads(outcomes), sparePasses(day, outcomes, clips), { corrections, tolerances: rules.tolerances });
  const proposedFor = groupBy(proposed, ({ lead }) => lead);
  return {
    grouped: day,
    sets: outcomes.map(({ set, leads, matches, leftOver }) => ({
      set,
      matches,
      proposed: leads.flatMap(({ id }) => proposedFor.get(id) ?? []),
      leftOver,
    })),
  };
}

function knowledgeOf(
  day: GroupedDay,
  rules: MatchRules,
  corrections: PairCorrections,
  roleOf: DayKnowledge['roleOf'],
  clips: ReadonlyMap<ClipId, Clip>,
  evidence: readonly SyncEvidence[],
): DayKnowledge {
  const byPair = groupBy(evidence, ({ lead, clip }) => pairKey(lead, clip));
  const confirmed = groupBy(corrections.confirmedPairs, ({ lead }) => lead);
  return {
    rules,
    corrections,
    roleOf,
    confirmedFor: ({ id }) => (confirmed.get(id) ?? []).flatMap(({ clip }) => clips.get(clip) ?? []),
    shotsOf: rowFinder(day.shots),
    evidenceFor: (lead, clip) => (byPair.size === 0 ? [] : (byPair.get(pairKey(lead, clip)) ?? [])),
    marksOf: markFinder(day.marks, rules.roleWords),
  };
}
