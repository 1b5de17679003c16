import type { Config } from '../config/resolved.ts';
import type { MatchedDay, ReadDay } from '../core/material/day.ts';
import type { SyncEvidence } from '../core/matching/sync.ts';
import { tieDay } from '../steps/cut/tie-day.ts';
import { groupDay } from '../steps/group/group-day.ts';
import { matchDay } from '../steps/match/match-day.ts';

/** What was read, grouped and matched. `more` is what pictures and sound say of how passes lie over each other. */
export function matchRead(read: ReadDay, config: Config, more: readonly SyncEvidence[] = []): MatchedDay {
  const { grouped, evidence } = tieDay(groupDay(read, config), read.cuts ?? [], config);
  return matchDay(grouped, config, [...evidence, ...more]);
}
