import { rateName } from '../timecode/rate.ts';
import type { FrameRange } from '../timecode/range.ts';
import { framesPerDay } from '../timecode/timecode.ts';
import type { Clip } from './clip.ts';
import type { FrameTrack, Stop } from './statement.ts';
import type { RecordedMove, TrackedSample } from './tracked-move.ts';

/** Where a clip lies in a move's own count: the number of the sample of its first frame, and samples for each frame. */
export type MoveOnClip =
  | { readonly kind: 'laid'; readonly start: number; readonly each: number }
  | { readonly kind: 'not-laid'; readonly why: string };

/** Lays a move under a clip by timecode, which is all that both have in common. */
export function layMove({ rate, counted, format, samples }: RecordedMove, clip: Pick<Clip, 'start' | 'rate' | 'frames'>): MoveOnClip {
  if (counted !== 'timecode' || format === undefined) return notLaid('its samples carry no timecode');
  if (clip.start === undefined || clip.rate === undefined) return notLaid('the clip has no timecode or no frame rate');
  const each = (rate.num * clip.rate.den) / (rate.den * clip.rate.num);
  const perLabel = format.base / clip.start.format.base;
  if (!Number.isInteger(each) || !Number.isInteger(perLabel) || each < 1 || perLabel < 1) return notLaid(`it has ${rateName(rate)} samples a second and the clip ${rateName(clip.rate)} frames`);
  if (format.drop !== clip.start.format.drop) return notLaid('one counts in drop frame and the other does not');
  const start = clip.start.frame * perLabel;
  const first = samples[0]?.frame ?? start;
  // A move that ran through midnight goes on counting; a clip does not know of the day before.
  const isNextDay = start + (clip.frames ?? 1) * each <= first && (samples.at(-1)?.frame ?? first) >= framesPerDay(format);
  return { kind: 'laid', start: isNextDay ? start + framesPerDay(format) : start, each };
}

/** The frames of a clip, counted from its first, that lie within a move; undefined when none does. */
export function framesHeld(move: RecordedMove, clip: Pick<Clip, 'start' | 'rate' | 'frames'>): FrameRange | undefined {
  const laid = layMove(move, clip);
  const [first, last] = [move.samples[0], move.samples.at(-1)];
  if (laid.kind === 'not-laid' || first === undefined || last === undefined) return undefined;
  const start = Math.max(0, Math.ceil((first.frame - laid.start) / laid.each));
  const end = Math.min(clip.frames ?? 0, Math.floor((last.frame - laid.start) / laid.each) + 1);
  return end > start ? { start, end } : undefined;
}

/** What the lens was set to along a clip, as its move has it; undefined when the move says nothing of the lens there. */
export function lensTrackOf(move: RecordedMove, clip: Pick<Clip, 'start' | 'rate' | 'frames'>): FrameTrack | undefined {
  const laid = layMove(move, clip);
  const held = framesHeld(move, clip);
  if (laid.kind === 'not-laid' || held === undefined) return undefined;
  const frames = held.end;
  const values = (valueOf: (sample: TrackedSample) => number | undefined): readonly number[] => {
    const along = Array.from({ length: frames }, () => Number.NaN);
    for (const sample of move.samples) {
      const frame = (sample.frame - laid.start) / laid.each;
      if (Number.isInteger(frame) && frame >= 0 && frame < frames) along[frame] = valueOf(sample) ?? Number.NaN;
    }
    return along;
  };
  const stopKind: Stop['kind'] = move.samples.some(({ tStop }) => tStop !== undefined) ? 'T' : 'f';
  const along = {
    focalLength: values(({ focalLengthMm }) => focalLengthMm),
    focusDistance: values(({ focusM }) => focusM),
    stop: values(({ tStop, fStop }) => (stopKind === 'T' ? tStop : fStop)),
  };
  const known = Object.entries(along).filter(([, numbers]) => numbers.some((number) => !Number.isNaN(number)));
  const source = { kind: 'sidecar', file: move.file, place: move.source === '' ? '' : `source ${move.source}` } as const;
  return known.length === 0 ? undefined : { source, frames, values: Object.fromEntries(known), stopKind };
}

function notLaid(why: string): MoveOnClip {
  return { kind: 'not-laid', why };
}
