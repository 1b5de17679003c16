import { namesLead } from '../coverage/shot-of-lead.ts';
import { markAt } from '../matching/sync-marks.ts';
import type { Clip } from '../material/clip.ts';
import type { RoleWord } from '../material/group-rules.ts';
import type { MoveMark } from '../material/shot-list.ts';
import type { MovePoint } from '../optics/moves/mark.ts';
import { markKey } from '../optics/moves/mark.ts';
import { rateAsNumber } from '../timecode/rate.ts';
import type { MatchedPasses } from './passes.ts';

/** Rows of the move notes that are about one clip: by set-up, take and camera, and by the pass they name. Sync marks are among them: they are marks as well. */
export function marksOfClip(clip: Clip, marks: readonly MoveMark[], roleWords: readonly RoleWord[]): readonly MoveMark[] {
  return marks.filter((mark) => {
    const pass = mark.pass.trim().toLowerCase();
    const role = roleWords.find(({ word }) => word.toLowerCase() === pass)?.role ?? pass;
    return isFor(mark, clip) && (pass === '' || role === clip.role) && isInTake(mark, clip);
  });
}

/** A pass slated for another set-up is noted under either slate, under the other without its own take. */
export function isFor(mark: MoveMark, clip: Clip): boolean {
  if (namesLead(mark, clip)) return true;
  const { slate, camera } = mark;
  return clip.forSlate !== undefined && namesLead({ slate, ...(camera === undefined ? {} : { camera }) }, { ...clip, slate: clip.forSlate });
}

/** Of takes that the notes do not tell apart, the one in which the timecode of the mark lies. */
function isInTake({ take, tc, from }: MoveMark, clip: Clip): boolean {
  return take !== undefined || tc === undefined || clip.start === undefined || markAt(clip, tc, from) !== undefined;
}

/** The marks of both passes as the optics take them, and in words what their times are counted from. */
export interface TimedMarks {
  readonly lead: readonly MovePoint[];
  readonly pass: readonly MovePoint[];
  readonly timing: string;
  /** Whether the lead's times count from its first frame. */
  readonly fromStart: boolean;
}

/**
 * Puts the marks of two passes on one clock: by their timecodes under the sync, where both passes have any, else by the seconds the crew noted. A sync that is
 * only assumed gives way to the first mark both passes share.
 */
export function timeMarks({ lead, pass, sync }: MatchedPasses, leadMarks: readonly MoveMark[], passMarks: readonly MoveMark[]): TimedMarks {
  const byTimecode = [[lead, leadMarks], [pass, passMarks]] as const;
  const haveTimecode = byTimecode.every(([clip, marks]) => clip.rate !== undefined && marks.some((mark) => frameOf(mark, clip) !== undefined));
  const timeOf = (mark: MoveMark, clip: Clip, offset: number): number | undefined => {
    const frame = frameOf(mark, clip);
    return haveTimecode ? (frame === undefined || clip.rate === undefined ? undefined : (frame - offset) / rateAsNumber(clip.rate)) : mark.timeS;
  };
  const first = leadMarks.map((mark) => pointOf(mark, timeOf(mark, lead, 0)));
  const second = passMarks.map((mark) => pointOf(mark, timeOf(mark, pass, sync.offset)));
  if (!haveTimecode) return { lead: first, pass: second, timing: 'times as noted, in seconds', fromStart: false };
  if (sync.method !== 'assumed') return { lead: first, pass: second, timing: `times by timecode under the sync (${sync.method})`, fromStart: true };
  const shared = first.map((point) => ({ point, other: second.find(({ name }) => markKey(name) === markKey(point.name)) })).find(({ point, other }) => point.timeS !== undefined && other?.timeS !== undefined);
  if (shared === undefined) return { lead: first, pass: second, timing: '', fromStart: true };
  const late = (shared.other?.timeS ?? 0) - (shared.point.timeS ?? 0);
  return {
    lead: first,
    pass: second.map((point) => (point.timeS === undefined ? point : { ...point, timeS: point.timeS - late })),
    timing: `times counted from mark ${shared.point.name}, since nothing else tells how the passes lie over each other`,
    fromStart: true,
  };
}

function frameOf({ tc, from }: MoveMark, clip: Clip): number | undefined {
  return tc === undefined ? undefined : markAt(clip, tc, from)?.frame;
}

function pointOf(mark: MoveMark, timeS: number | undefined): MovePoint {
  const { x, y, z, pan, tilt, roll, focalLengthMm, focusDistanceM } = mark;
  const numbers = { timeS, x, y, z, panDeg: pan, tiltDeg: tilt, rollDeg: roll, focalLengthMm, focusM: focusDistanceM };
  return { name: mark.mark, ...Object.fromEntries(Object.entries(numbers).filter(([, value]) => value !== undefined)) };
}
