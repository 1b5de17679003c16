import type { FrameRange } from '../../core/timecode/range.ts';
import type { FrameRate } from '../../core/timecode/rate.ts';
import { rateAsNumber } from '../../core/timecode/rate.ts';

/** A timeline to be written. Everything is counted in frames of `rate`; `start` is the timecode of its first frame as such a count. */
export interface WrittenTimeline {
  readonly name: string;
  readonly rate: FrameRate;
  readonly start: number;
  /** Bottom first. All are padded with gaps to the length of the longest. */
  readonly tracks: readonly WrittenTrack[];
  readonly metadata?: WrittenMetadata;
}

export interface WrittenTrack {
  readonly name: string;
  readonly clips: readonly WrittenClip[];
  readonly metadata?: WrittenMetadata;
}

export interface WrittenClip {
  readonly name: string;
  /** Frame of the timeline, from 0, at which it begins. */
  readonly at: number;
  /** How long it is seen, in frames of the timeline. */
  readonly frames: number;
  /** First source frame, as a timecode count at the source's rate. */
  readonly sourceStart: number;
  /** Where the source runs at another rate than the timeline. */
  readonly sourceRate?: FrameRate;
  readonly media: WrittenMedia;
  /** All there is of the media, counted like `sourceStart`. */
  readonly available?: FrameRange;
  /** Speed of a linear time warp; 0 holds the first frame. */
  readonly timeScalar?: number;
  readonly markers?: readonly { readonly sourceFrame: number; readonly name: string; readonly comment?: string }[];
  readonly metadata?: WrittenMetadata;
}

export type WrittenMedia =
  | { readonly kind: 'file'; readonly url: string }
  | { readonly kind: 'sequence'; readonly base: string; readonly prefix: string; readonly suffix: string; readonly firstNumber: number; readonly padding: number }
  | { readonly kind: 'missing' };

/** Written under the key `gemel`, which no other program uses. */
export type WrittenMetadata = Readonly<Record<string, unknown>>;

type Json = Readonly<Record<string, unknown>>;

/**
 * An OpenTimelineIO file that releases since 0.15 read: Clip.2 and Marker.2, tracks stacked bottom first and padded to one length.
 * Reading it back gives the same ranges.
 * @throws {RangeError} when clips of a track overlap, or a range is no range of whole frames.
 */
export function formatOtio(timeline: WrittenTimeline): string {
  const { name, rate, start, tracks, metadata } = timeline;
  const length = tracks.flatMap(({ clips }) => clips).reduce((longest, { at, frames }) => Math.max(longest, at + frames), 0);
  const written = {
    OTIO_SCHEMA: 'Timeline.1',
    metadata: own(metadata),
    name,
    global_start_time: time(start, rate),
    tracks: { ...item('Stack.1', 'tracks'), children: tracks.map((track) => trackJson(track, length, rate)) },
  };
  return `${JSON.stringify(written, null, 2)}\n`;
}

function trackJson({ name, clips, metadata }: WrittenTrack, length: number, rate: FrameRate): Json {
  const children: Json[] = [];
  let at = 0;
  for (const clip of clips.toSorted((a, b) => a.at - b.at)) {
    assertWhole(clip);
    if (clip.at < at) throw new RangeError(`${clip.name} begins at frame ${clip.at} of track ${name}, before frame ${at} where the clip before it ends`);
    if (clip.at > at) children.push(gap(clip.at - at, rate));
    children.push(clipJson(clip, rate));
    at = clip.at + clip.frames;
  }
  if (at < length) children.push(gap(length - at, rate));
  return { ...item('Track.1', name, metadata), kind: 'Video', children };
}

function assertWhole({ name, at, frames, sourceStart }: WrittenClip): void {
  if (![at, frames, sourceStart].every((value) => Number.isSafeInteger(value)) || at < 0 || frames < 1) {
    throw new RangeError(`${name}: ${frames} frames from ${at}, source from ${sourceStart}, are no range`);
  }
}

function clipJson(clip: WrittenClip, rate: FrameRate): Json {
  const sourceRate = clip.sourceRate ?? rate;
  const duration = (clip.frames * sourceRate.num * rate.den) / (sourceRate.den * rate.num);
  if (!Number.isInteger(duration)) throw new RangeError(`${clip.name}: ${clip.frames} frames of the timeline are ${duration} of the source, no whole number`);
  return {
    ...item('Clip.2', clip.name, clip.metadata),
    source_range: range(clip.sourceStart, duration, sourceRate),
    effects: clip.timeScalar === undefined ? [] : [timeEffect(clip.timeScalar)],
    markers: (clip.markers ?? []).map((marker) => ({
      OTIO_SCHEMA: 'Marker.2', metadata: {}, name: marker.name, color: 'GREEN', comment: marker.comment ?? '', marked_range: range(marker.sourceFrame, 0, sourceRate),
    })),
    media_references: { DEFAULT_MEDIA: mediaJson(clip, sourceRate) },
    active_media_reference_key: 'DEFAULT_MEDIA',
  };
}

function timeEffect(scalar: number): Json {
  const name = scalar === 0 ? 'FreezeFrame' : 'LinearTimeWarp';
  return { OTIO_SCHEMA: `${name}.1`, metadata: {}, name: '', effect_name: name, enabled: true, time_scalar: scalar };
}

function mediaJson({ media, available }: WrittenClip, rate: FrameRate): Json {
  const shared = { metadata: {}, name: '', available_range: available === undefined ? null : range(available.start, available.end - available.start, rate), available_image_bounds: null };
  switch (media.kind) {
    case 'file': return { OTIO_SCHEMA: 'ExternalReference.1', ...shared, target_url: media.url };
    case 'missing': return { OTIO_SCHEMA: 'MissingReference.1', ...shared };
    case 'sequence':
      return {
        OTIO_SCHEMA: 'ImageSequenceReference.1', ...shared, target_url_base: media.base, name_prefix: media.prefix, name_suffix: media.suffix,
        start_frame: media.firstNumber, frame_step: 1, rate: rateAsNumber(rate), frame_zero_padding: media.padding, missing_frame_policy: 'error',
      };
    default: return media satisfies never;
  }
}

/** What every item carries. */
function item(schema: string, name: string, metadata?: WrittenMetadata): Json {
  return { OTIO_SCHEMA: schema, metadata: own(metadata), name, source_range: null, effects: [], markers: [], enabled: true };
}

function gap(frames: number, rate: FrameRate): Json {
  return { ...item('Gap.1', ''), source_range: range(0, frames, rate) };
}

function range(start: number, duration: number, rate: FrameRate): Json {
  return { OTIO_SCHEMA: 'TimeRange.1', start_time: time(start, rate), duration: time(duration, rate) };
}

function time(value: number, rate: FrameRate): Json {
  return { OTIO_SCHEMA: 'RationalTime.1', rate: rateAsNumber(rate), value };
}

function own(metadata: WrittenMetadata | undefined): Json {
  return metadata === undefined ? {} : { gemel: metadata };
}
