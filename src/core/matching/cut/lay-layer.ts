import type { Clip } from '../../material/clip.ts';
import type { CutLayer } from '../../material/cut.ts';
import type { CutEvent } from '../../material/cut-event.ts';
import type { FrameRange } from '../../timecode/range.ts';
import { lengthOf } from '../../timecode/range.ts';
import type { FrameRate } from '../../timecode/rate.ts';

/** An event whose clip is known: `range` are the clip's frames from record in to record out, a retime worked in, dissolves not. */
export interface TiedEvent {
  readonly event: CutEvent;
  readonly clip: Clip;
  readonly range: FrameRange;
  readonly tiedBy: string;
  readonly cutRate: FrameRate;
}

/** The event as a layer of a shot that lies at `record` of the cut. */
export function layLayer(tied: TiedEvent, record: FrameRange): CutLayer {
  const { event, clip, tiedBy } = tied;
  const { retime, dissolve, track, disabled, file, place } = event;
  return {
    clip: clip.id,
    track,
    source: withDissolves(tied),
    atRecordIn: frameAt(tied, record.start),
    ...(retime === undefined ? {} : { retime }),
    dissolve,
    disabled,
    from: placeText(file, place),
    tiedBy,
  };
}

/** "cut_v1.edl line 12". */
export function placeText(file: string, place: string): string {
  return `${file} ${place}`;
}

/** Clip frames that pass while one frame of the cut does, negative when played backwards; 0 in a freeze. */
export function stepOf({ event, range, cutRate }: TiedEvent): number {
  const { retime, source } = event;
  if (retime?.kind === 'freeze') return 0;
  // A clip of 48 frames a second may have two for every frame of the source count, and the count two for every frame of the cut.
  const perSource = lengthOf(range) / Math.max(1, lengthOf(source.range));
  const perCut = (source.rate.num * cutRate.den) / (source.rate.den * cutRate.num);
  return (retime?.ratio ?? 1) * perSource * perCut;
}

/** The clip frame that lies at a frame of the cut, in or beyond the event. */
export function frameAt(tied: TiedEvent, cutFrame: number): number {
  const { event, range } = tied;
  const step = stepOf(tied);
  const first = step < 0 ? range.end - 1 : range.start;
  return Math.round(first + (cutFrame - event.record.start) * step);
}

/** Under a dissolve more of the clip is seen than between its edit points. */
function withDissolves(tied: TiedEvent): FrameRange {
  const { event: { dissolve }, range } = tied;
  const step = stepOf(tied);
  const before = Math.ceil(dissolve.head * Math.abs(step));
  const after = Math.ceil(dissolve.tail * Math.abs(step));
  return step < 0 ? { start: range.start - after, end: range.end + before } : { start: range.start - before, end: range.end + after };
}
