import type { CutEvent, SourceRange } from '../../core/material/cut-event.ts';
import type { FrameRange } from '../../core/timecode/range.ts';
import { lengthOf } from '../../core/timecode/range.ts';
import type { FrameRate } from '../../core/timecode/rate.ts';
import { nominalBase } from '../../core/timecode/rate.ts';
import type { Retiming } from './effects.ts';
import { readRetime } from './effects.ts';
import type { Media } from './media.ts';
import { readMedia } from './media.ts';
import { readMarker } from './marker.ts';
import { readMetadata } from './metadata.ts';
import type { ClipContext, Placing, Seen } from './placing.ts';
import { list, text } from './schema.ts';
import type { Typed } from './schema.ts';
import type { Span, TimeFault } from './time.ts';
import { framesAt, isFault, readSpan, spanAt } from './time.ts';

/** A clip of a timeline as an event of the cut; undefined when it cannot be used, which is then said. */
export function clipEvent(clip: Typed, placing: Placing, seen: Seen, walk: ClipContext, lose: (fault: TimeFault) => void): CutEvent | undefined {
  const { path, window, track, disabled, zero } = placing;
  const media = readMedia(clip);
  for (const fault of media.faults) walk.say(path, fault);
  const span = trimmedSpan(clip, media);
  if (span === undefined) {
    lose({ found: 'a clip without a range that can be read', expected: 'source_range or available_range' });
    return undefined;
  }
  const retiming = readRetime(clip.keys['effects']);
  if (retiming.fault !== undefined) {
    lose(retiming.fault);
    return undefined;
  }
  const record = { start: Math.round(window.start), end: Math.round(window.end) };
  if (record.start !== window.start || record.end !== window.end) {
    walk.say(path, { found: `frames ${window.start} to ${window.end} of the cut`, expected: 'whole frames; they are rounded' }, 'note');
  }
  if (lengthOf(record) <= 0) return undefined;
  const source = sourceOf(span, record, record.start - Math.round(zero), media, retiming, walk.rate);
  if (source.rounded) walk.say(path, { found: 'a source range between frames', expected: 'whole frames; it is widened to whole ones' }, 'note');
  const metadata = readMetadata(clip.keys['metadata'], `${walk.file} ${path}`);
  const name = text(clip.keys['name']);
  return {
    file: walk.file,
    place: path,
    number: String(walk.events.length + 1).padStart(3, '0'),
    track,
    ...(metadata.reel === undefined ? {} : { reel: metadata.reel }),
    ...(name === undefined ? {} : { clipName: name }),
    ...(media.file === undefined ? {} : { sourceFile: media.file }),
    content: media.kind === 'generator' ? 'filler' : 'clip',
    source: source.range,
    record,
    ...(retiming.retime === undefined ? {} : { retime: retiming.retime }),
    dissolve: { head: Math.ceil(seen.head), tail: Math.ceil(seen.tail) },
    ...(seen.words === undefined ? {} : { transition: seen.words }),
    disabled,
    markers: markersOf(clip, span, zero, record, walk),
    comments: metadata.comments,
    ...(metadata.cdl === undefined ? {} : { cdl: metadata.cdl }),
  };
}

/** What the clip shows of its media before anything around it trims it: its source range, else all there is. */
function trimmedSpan(clip: Typed, { available }: Media): Span | undefined {
  const range = readSpan(clip.keys['source_range']);
  return range === undefined || isFault(range) ? available : range;
}

/** Source frames for the part of the clip that is seen; `skippedFrames` of the cut lie before it. */
function sourceOf(
  span: Span, record: FrameRange, skippedFrames: number, media: Media, { retime }: Retiming, rate: FrameRate,
): { readonly range: SourceRange; readonly rounded: boolean } {
  const sourceRate = span.start.rate;
  const perFrame = (sourceRate.num * rate.den) / (sourceRate.den * rate.num);
  const exact = exactRange(framesAt(span.start, sourceRate), skippedFrames * perFrame, lengthOf(record) * perFrame, framesAt(span.duration, sourceRate), retime);
  const range = { start: Math.floor(exact.start + 1e-6), end: Math.ceil(exact.end - 1e-6) };
  const available = media.available === undefined ? undefined : spanAt(media.available, sourceRate);
  return {
    range: {
      range,
      rate: sourceRate,
      format: { base: nominalBase(sourceRate), drop: false },
      counting: 'frames',
      ...(available === undefined ? {} : { available: { start: Math.round(available.start), end: Math.round(available.end) } }),
      ...(media.firstNumber === undefined ? {} : { firstNumber: media.firstNumber }),
    },
    rounded: retime === undefined && (Math.abs(range.start - exact.start) > 1e-6 || Math.abs(range.end - exact.end) > 1e-6),
  };
}

/** A time warp leaves the length in the track as it is and uses that length times its scalar of the media, from the start of the range. */
function exactRange(start: number, skipped: number, length: number, whole: number, retime: Retiming['retime']): FrameRange {
  if (retime === undefined) return { start: start + skipped, end: start + skipped + length };
  if (retime.kind === 'freeze') return { start, end: start + 1 };
  const speed = Math.abs(retime.ratio);
  const last = (length - 1) * speed;
  // Played backwards, the first frame of the cut shows the last of the range.
  const from = retime.ratio > 0 ? skipped * speed : (whole - 1 - skipped) * speed - last;
  return { start: start + from, end: start + from + last + 1 };
}

function markersOf(clip: Typed, span: Span, zero: number, record: FrameRange, walk: ClipContext): CutEvent['markers'] {
  return list(clip.keys['markers']).flatMap((value) => {
    const marker = readMarker(value);
    if (marker === undefined) return [];
    const frame = Math.floor(zero + framesAt(marker.at.start, walk.rate) - framesAt(span.start, walk.rate) + 1e-6);
    return frame >= record.start && frame < record.end ? [{ frame, text: marker.text }] : [];
  });
}
