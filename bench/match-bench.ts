import { readFileSync } from 'node:fs';
import { parseDefaultPipeline } from '../src/config/parse-pipeline.ts';
import type { ReadDay } from '../src/core/material/day.ts';
import { checkDay } from '../src/steps/check/check-day.ts';
import { groupDay } from '../src/steps/group/group-day.ts';
import { matchDay } from '../src/steps/match/match-day.ts';
import { inventDay } from './invented-day.ts';

/** How long grouping, matching and checking an invented day took, and what came of it. Times are the best of the runs. */
export interface MatchFigures {
  readonly clips: number;
  readonly groupMs: number;
  readonly matchMs: number;
  readonly checkMs: number;
  readonly totalMs: number;
  /** The largest memory of the process so far, everything included. */
  readonly peakMb: number;
  readonly sets: number;
  readonly matches: number;
  readonly proposed: number;
  readonly findings: number;
}

/** Groups, matches and checks invented days of these sizes, smallest first, so that the first warms the machine for the others. */
export function benchMatch(sizes: readonly number[], runs = 3): readonly MatchFigures[] {
  const config = parseDefaultPipeline(readFileSync(new URL('../pipelines/default.yaml', import.meta.url), 'utf8'));
  return sizes.toSorted((a, b) => a - b).map((clips) => {
    const day = inventDay(clips);
    const figures = Array.from({ length: runs }, () => measure(day, config));
    const best = figures.toSorted((a, b) => a.totalMs - b.totalMs)[0];
    if (best === undefined) throw new RangeError('at least one run');
    return best;
  });
}

function measure(day: ReadDay, config: ReturnType<typeof parseDefaultPipeline>): MatchFigures {
  const start = performance.now();
  const grouped = groupDay(day, config);
  const afterGroup = performance.now();
  const matched = matchDay(grouped, config);
  const afterMatch = performance.now();
  const judged = checkDay(matched, config);
  const end = performance.now();
  return {
    clips: day.clips.length,
    groupMs: afterGroup - start,
    matchMs: afterMatch - afterGroup,
    checkMs: end - afterMatch,
    totalMs: end - start,
    peakMb: process.resourceUsage().maxRSS / 1024,
    sets: matched.sets.length,
    matches: matched.sets.reduce((sum, { matches }) => sum + matches.length, 0),
    proposed: matched.sets.reduce((sum, { proposed }) => sum + proposed.length, 0),
    findings: judged.sets.reduce((sum, { findings }) => sum + findings.length, judged.findings.length),
  };
}
