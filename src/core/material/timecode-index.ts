import { nominalBase } from '../timecode/rate.ts';
import type { TimecodeFormat } from '../timecode/timecode.ts';
import { framesPerDay, parseLabel } from '../timecode/timecode.ts';
import type { Clip } from './clip.ts';

/** Finds the clips of a camera in which a label lies. */
export interface TimecodeIndex {
  /** Places of the clips whose labels hold it; without a camera letter, of any camera. */
  holding(label: string, camera: string | undefined): readonly number[];
}

/** More than these are no answer: a label that lies in so many clips tells none apart. */
const MOST = 32;

interface Span {
  readonly place: number;
  readonly start: number;
  readonly end: number;
}

interface Track {
  readonly camera: string;
  readonly format: TimecodeFormat;
  readonly spans: Span[];
  /** For each span the latest end among it and those before it. */
  readonly latestEnd: number[];
}

/** Makes the index: spans sorted by start for each camera and format, so that a lookup is a binary search. */
export function indexTimecode(clips: readonly Pick<Clip, 'camera' | 'start' | 'frames' | 'rate'>[]): TimecodeIndex {
  const tracks = new Map<string, Track>();
  clips.forEach(({ camera = '', start, frames, rate }, place) => {
    if (start === undefined || frames === undefined) return;
    const { format, frame } = start;
    const key = `${camera}|${format.base}|${format.drop}`;
    const track = tracks.get(key) ?? { camera, format, spans: [], latestEnd: [] };
    tracks.set(key, track);
    const perLabel = rate === undefined ? 1 : Math.max(1, Math.round(nominalBase(rate) / format.base));
    track.spans.push({ place, start: frame, end: frame + Math.ceil(frames / perLabel) });
  });
  for (const track of tracks.values()) sortSpans(track);
  return {
    holding: (label, camera) =>
      [...tracks.values()].filter((track) => camera === undefined || track.camera === camera).flatMap((track) => placesIn(track, label)),
  };
}

function sortSpans({ spans, latestEnd }: Track): void {
  spans.sort((a, b) => a.start - b.start || a.place - b.place);
  let latest = -1;
  for (const { end } of spans) {
    latest = Math.max(latest, end);
    latestEnd.push(latest);
  }
}

function placesIn(track: Track, label: string): readonly number[] {
  let frame: number;
  try {
    frame = parseLabel(label, track.format).frame;
  } catch {
    return [];
  }
  // A clip that runs past midnight holds the label a day later.
  return [...placesAt(track, frame), ...placesAt(track, frame + framesPerDay(track.format))];
}

function placesAt({ spans, latestEnd }: Track, frame: number): readonly number[] {
  let low = 0;
  let high = spans.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((spans[middle]?.start ?? Infinity) <= frame) low = middle + 1;
    else high = middle;
  }
  const found: number[] = [];
  for (let at = low - 1; at >= 0 && found.length < MOST && (latestEnd[at] ?? 0) > frame; at -= 1) {
    const span = spans[at];
    if (span !== undefined && span.end > frame) found.push(span.place);
  }
  return found;
}
