import { namesLead } from '../coverage/shot-of-lead.ts';
import type { Clip } from '../material/clip.ts';
import type { Finding } from '../material/finding.ts';
import type { PlateSet } from '../material/plate-set.ts';
import type { MoveMark } from '../material/shot-list.ts';
import { clipName } from './passes.ts';
import { raise } from './raise.ts';

/**
 * A move that no machine repeats needs its marks on record for each pass that is joined, or nobody can compare the passes.
 * A camera move recorded along the take does as well.
 */
export function checkMarks(set: PlateSet, joined: readonly Clip[], marks: readonly MoveMark[]): readonly Finding[] {
  if (!set.method.movingCamera || set.method.repeatedMove || joined.length === 0) return [];
  const without = joined.filter((clip) => !hasRecordedMove(clip) && !marks.some((mark) => isFor(mark, clip)));
  if (without.length === 0) return [];
  return [
    raise({
      code: 'move-differs',
      severity: 'warn',
      subject: without,
      set,
      measured: { value: `${joined.length - without.length} of ${joined.length} passes`, unit: '' },
      allowed: { value: `${joined.length} of ${joined.length} passes`, unit: '' },
      evidence: without.map((clip) => `${clipName(clip)}: no marks in the move notes, no move recorded along the take`),
    }),
  ];
}

/** A pass slated for another set-up is noted under either slate, under the other without its own take. */
function isFor(mark: MoveMark, clip: Clip): boolean {
  if (namesLead(mark, clip)) return true;
  const { slate, camera } = mark;
  return clip.forSlate !== undefined && namesLead({ slate, ...(camera === undefined ? {} : { camera }) }, { ...clip, slate: clip.forSlate });
}

function hasRecordedMove({ tracks }: Clip): boolean {
  return tracks.some(({ values }) => values.tilt !== undefined || values.rollAngle !== undefined);
}
