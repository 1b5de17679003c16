/** Frames counted from some stated zero. `end` is exclusive, so `end - start` is the length in frames. */
export interface FrameRange {
  readonly start: number;
  readonly end: number;
}

/** How many frames travel along before and after the cut range. */
export interface Handles {
  readonly head: number;
  readonly tail: number;
}

/**
 * A range from its start and exclusive end.
 * @throws {RangeError} when a bound is not whole or the end lies before the start.
 */
export function frameRange(start: number, end: number): FrameRange {
  if (!Number.isSafeInteger(start) || !Number.isSafeInteger(end)) throw new RangeError(`frames are whole numbers, not ${start} to ${end}`);
  if (end < start) throw new RangeError(`a range cannot end (${end}) before it starts (${start})`);
  return { start, end };
}

/** Length in frames. */
export function lengthOf(range: FrameRange): number {
  return range.end - range.start;
}

/** The number people read as "out": the last frame that is in. */
export function lastFrame(range: FrameRange): number {
  return range.end - 1;
}

/** The frames to pull for a cut: its cut range plus a head handle and a tail handle. */
export function pullRange(cut: FrameRange, handles: Handles): FrameRange {
  return { start: cut.start - handles.head, end: cut.end + handles.tail };
}

/** The same frames, counted from another zero. */
export function shiftRange(range: FrameRange, frames: number): FrameRange {
  return { start: range.start + frames, end: range.end + frames };
}

/** The frames in both, or undefined when there are none. */
export function overlap(a: FrameRange, b: FrameRange): FrameRange | undefined {
  const start = Math.max(a.start, b.start);
  const end = Math.min(a.end, b.end);
  return start < end ? { start, end } : undefined;
}

/** Whether every frame of `inner` lies in `outer`. An empty range lies anywhere. */
export function holds(outer: FrameRange, inner: FrameRange): boolean {
  return inner.start >= inner.end || (inner.start >= outer.start && inner.end <= outer.end);
}
