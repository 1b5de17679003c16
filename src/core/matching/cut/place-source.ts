import { spanOf } from '../../coverage/span.ts';
import type { Clip } from '../../material/clip.ts';
import type { SourceRange } from '../../material/cut-event.ts';
import { framesPerLabel } from '../../timecode/half-rate.ts';
import type { FrameRange } from '../../timecode/range.ts';
import { lengthOf, overlap } from '../../timecode/range.ts';
import { nominalBase } from '../../timecode/rate.ts';
import { TimecodeError, formatTimecode, framesPerDay, parseLabel } from '../../timecode/timecode.ts';

/** Which frames of a clip an event means, counted from the clip's first, and by what; or why that cannot be told. */
export type Placed =
  | { readonly kind: 'placed'; readonly range: FrameRange; readonly by: string }
  | { readonly kind: 'nowhere'; readonly why: string };

/**
 * Places the source range of an event on a clip: by the number in the file name where an image sequence is named with one, by
 * timecode, or by counting from the first frame where the clip has no timecode or the cut counts its media from 0. The range may
 * reach beyond the clip (frames are then missing), but must touch it.
 */
export function placeSource(source: SourceRange, clip: Clip): Placed {
  return byFileNumber(source, clip) ?? byTimecode(source, clip);
}

function byFileNumber({ range, available, firstNumber }: SourceRange, { sequence }: Clip): Placed | undefined {
  if (available === undefined || firstNumber === undefined || sequence === undefined) return undefined;
  const shift = firstNumber - sequence.first - available.start;
  return { kind: 'placed', range: { start: range.start + shift, end: range.end + shift }, by: 'file number' };
}

function byTimecode(source: SourceRange, clip: Clip): Placed {
  const { start } = clip;
  const factor = framesPerSourceFrame(source, clip);
  if (factor === undefined) return { kind: 'nowhere', why: `its source counts at ${source.format.base} labels a second and the clip at ${clip.start?.format.base ?? 'another rate'}` };
  const fromFirst = countFromFirst(source, clip, factor);
  if (start === undefined) return fromFirst ?? { kind: 'nowhere', why: 'the clip has no timecode' };
  const first = firstOnClip(source, clip, factor);
  if (typeof first === 'string') return { kind: 'nowhere', why: first };
  const range = { start: first, end: first + lengthOf(source.range) * factor };
  const length = spanOf(clip) ?? Number.MAX_SAFE_INTEGER;
  if (overlap(range, { start: 0, end: length }) !== undefined) return { kind: 'placed', range, by: 'source timecode' };
  if (source.available?.start === 0 && fromFirst !== undefined) return fromFirst;
  const label = formatTimecode({ frame: source.range.start, format: source.counting === 'frames' ? { ...start.format, base: source.format.base } : source.format });
  return { kind: 'nowhere', why: `source timecode ${label} lies outside the clip, which starts at ${formatTimecode(start)}${clip.frames === undefined ? '' : ` and holds ${clip.frames} frames`}` };
}

/** Where a cut counts media from 0, or nobody knows a timecode, frame 0 is the clip's first. */
function countFromFirst({ range, available }: SourceRange, clip: Clip, factor: number): Placed | undefined {
  const zero = available?.start ?? 0;
  const placed = { start: (range.start - zero) * factor, end: (range.end - zero) * factor };
  const length = spanOf(clip) ?? Number.MAX_SAFE_INTEGER;
  return placed.start >= 0 && placed.start < length ? { kind: 'placed', range: placed, by: 'count from its first frame' } : undefined;
}

/** A clip of 48 frames a second in a cut of 24 has two for each; undefined when they do not go into each other. */
function framesPerSourceFrame({ format, rate, counting }: SourceRange, clip: Clip): number | undefined {
  if (clip.rate === undefined) return 1;
  const base = counting === 'frames' ? nominalBase(rate) : format.base;
  const factor = nominalBase(clip.rate) / base;
  return Number.isInteger(factor) && factor > 0 ? factor : undefined;
}

/** The clip frame of the range's first frame, the shorter way round the clock; or why the labels do not compare. */
function firstOnClip(source: SourceRange, { start, rate }: Clip, factor: number): number | string {
  if (start === undefined) return 'the clip has no timecode';
  const perLabel = rate === undefined ? 1 : framesPerLabel(rate, start.format);
  if (perLabel === undefined) return 'the labels of the clip do not keep step with its frames';
  const frame = source.counting === 'frames' ? source.range.start * factor : framesOfLabel(source, start.format.drop, factor);
  if (typeof frame === 'string') return frame;
  const day = framesPerDay(start.format) * perLabel;
  const forward = (((frame - start.frame * perLabel) % day) + day) % day;
  return 2 * forward > day ? forward - day : forward;
}

/** A label of the list in frames of the clip from midnight. ":" that the list only assumes to count its own way is read the clip's. */
function framesOfLabel({ range, format, counting }: SourceRange, clipDrops: boolean, factor: number): number | string {
  if (format.drop === clipDrops) return range.start * factor;
  const words = (drop: boolean): string => (drop ? 'drop frame' : 'non-drop');
  if (counting === 'stated') return `its source timecode is ${words(format.drop)} and that of the clip ${words(clipDrops)}`;
  try {
    const label = formatTimecode({ frame: range.start, format });
    return parseLabel(label, { base: format.base, drop: clipDrops }).frame * factor;
  } catch (error) {
    if (!(error instanceof TimecodeError)) throw error;
    return `its source timecode does not exist in ${words(clipDrops)}, which the clip counts in`;
  }
}
