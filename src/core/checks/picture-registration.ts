import type { Clip } from '../material/clip.ts';
import type { Finding } from '../material/finding.ts';
import type { Tolerances } from '../material/tolerance.ts';
import { scaledTo } from '../material/tolerance.ts';
import type { MatchPicture, PlateRegistration } from '../picture/measure/match-picture.ts';
import { byPx } from './cost.ts';
import { figure } from './evidence.ts';
import { raise } from './raise.ts';
import { severityBeyond } from './severity.ts';

/** Beyond what registration itself may be wrong by; a shift is undone by a warp, so it is mild far longer than parallax. */
export function checkRegistration(lead: Clip, clip: Clip, found: PlateRegistration, { raster }: MatchPicture, tolerances: Tolerances): readonly Finding[] {
  const limit = scaledTo(raster.width, tolerances.shiftPx);
  const severity = found.confidence === 'low' ? undefined : severityBeyond(Math.max(0, found.largestPx - found.uncertaintyPx), limit);
  if (severity === undefined) return [];
  const evidence = [`registered on ${found.pairs} pairs of frames: ${figure(found.largestPx, 2)} ± ${figure(found.uncertaintyPx, 2)} px in a corner, ${Math.round(100 * found.q)} % of the picture agrees`];
  const { measured, allowed } = byPx(severity, found.largestPx, limit.warn);
  return [raise({ code: 'misregistered', severity, subject: [lead, clip], lead, clip, found, measured, allowed, evidence })];
}
