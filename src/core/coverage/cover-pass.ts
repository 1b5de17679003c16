import type { Clip, Role } from '../material/clip.ts';
import { frameRange, lengthOf, overlap, pullRange, shiftRange } from '../timecode/range.ts';
import type { FrameRange } from '../timecode/range.ts';
import type { NeededRange, PassCoverage } from './coverage.ts';
import { spanOf } from './span.ts';

/**
 * How far a pass, laid under the lead by `offset` (frame of the pass = frame of the lead + offset), holds a needed range.
 * Undefined when nobody knows how long the pass is.
 *
 * ```
 *   needed   |head|      cut range      |tail|
 *   pass          xx..........  ..........        x missing head   gap   missing tail, tail handle
 * ```
 */
export function coverPass(pass: Clip, role: Role, offset: number, needed: NeededRange): PassCoverage | undefined {
  const length = spanOf(pass);
  if (length === undefined) return undefined;
  // Not "-offset": the negative of 0 is -0, and it would be printed.
  const available = frameRange(0 - offset, length - offset);
  const { cut, handles } = needed;
  const missingHead = clamp(available.start - cut.start, 0, lengthOf(cut));
  return {
    clip: pass.id,
    role,
    needed,
    available,
    missingHead,
    missingTail: lengthOf(cut) - missingHead - held(available, { start: cut.start + missingHead, end: cut.end }),
    missingHeadHandle: handles.head - held(available, { start: cut.start - handles.head, end: cut.start }),
    missingTailHandle: handles.tail - held(available, { start: cut.end, end: cut.end + handles.tail }),
    gaps: gapsOf(pass, offset, pullRange(cut, handles)),
  };
}

/** How far the lead itself holds what is needed of it. */
export function coverLead(lead: Clip, needed: NeededRange): PassCoverage | undefined {
  return coverPass(lead, 'lead', 0, needed);
}

/** Frames of the cut range and of the handles that are there, holes taken out. */
export function framesCovered({ available, needed, gaps }: PassCoverage): { readonly cut: number; readonly handles: number } {
  const there = (range: FrameRange): number => held(available, range) - gaps.reduce((sum, gap) => sum + held(gap, range), 0);
  const cut = there(needed.cut);
  return { cut, handles: there(pullRange(needed.cut, needed.handles)) - cut };
}

/** Holes of a sequence that fall into the range, in frames of the lead. */
function gapsOf({ sequence }: Clip, offset: number, range: FrameRange): readonly FrameRange[] {
  if (sequence === undefined) return [];
  return sequence.missing.flatMap((hole) => overlap(shiftRange(hole, 0 - sequence.first - offset), range) ?? []);
}

function held(outer: FrameRange, inner: FrameRange): number {
  const both = overlap(outer, inner);
  return both === undefined ? 0 : lengthOf(both);
}

function clamp(value: number, low: number, high: number): number {
  return Math.min(Math.max(value, low), high);
}
