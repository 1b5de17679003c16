import type { Cut } from '../../core/material/cut-event.ts';
import type { GroupedDay } from '../../core/material/day.ts';
import { rowsWithCut } from '../../core/matching/cut/cut-rows.ts';
import type { ShotCodeRules } from '../../core/matching/cut/shot-code.ts';
import { tieCut } from '../../core/matching/cut/tie-cut.ts';
import type { SyncEvidence } from '../../core/matching/sync.ts';

/** A day with its cut: shots of the cut among its rows, doubts among its findings, and what the cut tells of sync. */
export interface DayWithCut {
  readonly grouped: GroupedDay;
  readonly evidence: readonly SyncEvidence[];
}

/**
 * Lays cuts over a grouped day. It comes after grouping, since a cut names every shot of the film and makes no plate set of an
 * ordinary one; before matching, since it chooses takes and tells how they lie over each other. Without a cut the day is as it was.
 */
export function tieDay(grouped: GroupedDay, cuts: readonly Cut[], rules: ShotCodeRules): DayWithCut {
  if (cuts.length === 0) return { grouped, evidence: [] };
  const setOf = new Map(grouped.sets.flatMap((set) => set.clips.map(({ id }) => [id, set.id] as const)));
  const clips = new Map(grouped.clips.map((clip) => [clip.id, clip]));
  // What no set claims is an ordinary shot, whatever its passes are called: only the cut of a plate set is judged.
  const { shots, evidence, findings, untied } = tieCut(cuts, { clips: grouped.clips, setOf: (clip) => setOf.get(clip), shots: grouped.shots, rules });
  const ofSets = shots.filter(({ lead }) => setOf.has(lead));
  const ordinary = shots.filter(({ lead }) => !setOf.has(lead)).map(({ shot, shotFrom, lead, from }) => ({ shot, shotFrom, lead, from }));
  // What could not be read is told again with the shot it may be.
  const unread = new Set(cuts.flatMap((cut) => cut.unread ?? []).map(({ problem: { file, place, found } }) => JSON.stringify([place === '' ? file : `${file}, ${place}`, found])));
  const others = grouped.findings.filter(({ evidence: [where], measured }) => !unread.has(JSON.stringify([where, measured?.value])));
  return {
    grouped: { ...grouped, shots: rowsWithCut(ofSets, grouped.shots, (id) => clips.get(id)), findings: [...others, ...findings], cutRest: { untied, ordinary } },
    evidence,
  };
}
