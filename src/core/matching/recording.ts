import type { Clip, ClipId } from '../material/clip.ts';
import type { ClockedClip } from './recording-clock.ts';
import { hasClock, secondsBetween, secondsForward, secondsOfDay, secondsOfLabels } from './recording-clock.ts';
import type { RecordedApart } from './recording-text.ts';
import { sameRecording } from './same-recording.ts';
import { compareText, groupBy } from './sorted.ts';

/** In which order the clips of one camera were recorded, and whether their timecode can be taken for a clock. */
export interface Recording {
  /** Usable clips, first recorded first. */
  readonly order: readonly Clip[];
  readonly placeOf: ReadonlyMap<ClipId, number>;
  /** False where a timecode is missing or two clips carry the same stretch of it (playback, motion control, a wrong clock). */
  readonly clockTrusted: boolean;
}

/**
 * The recording order of clips of one camera: by date and timecode where timecode is a clock, else by roll and clip number,
 * then by take and file. Midnight does not matter, nor does the order in which the clips are given.
 */
export function recordingOf(clips: readonly Clip[]): Recording {
  const usable = clips.filter((clip) => clip.usable);
  const byCounter = usable.toSorted(compareCounters);
  const clocked = byCounter.filter(hasClock);
  const byClock = clocked.length === byCounter.length ? sortByClock(clocked) : undefined;
  const clockTrusted = byClock !== undefined && !overlaps(byClock);
  const order = clockTrusted ? byClock : byCounter;
  return { order, placeOf: new Map(order.map((clip, place) => [clip.id, place])), clockTrusted };
}

/** How far apart two clips of the set were recorded. */
export function recordedApart(recording: Recording, a: Clip, b: Clip): RecordedApart {
  const seconds = recording.clockTrusted ? secondsBetween(a, b) : undefined;
  if (seconds !== undefined) return { seconds: Math.abs(seconds) };
  return { clips: Math.abs((recording.placeOf.get(a.id) ?? 0) - (recording.placeOf.get(b.id) ?? 0)) };
}

/** Stable order of clips by what the camera counts: roll, clip number; then take and file. */
export function compareCounters(a: Clip, b: Clip): number {
  return (
    compareCounted(a.roll, b.roll) ||
    compareCounted(a.clip, b.clip) ||
    (a.slate?.take ?? 0) - (b.slate?.take ?? 0) ||
    compareText(a.id, b.id)
  );
}

/** "A9" before "A10": letters first, then the number. Absent comes first. */
function compareCounted(a = '', b = ''): number {
  if (a === b) return 0;
  const parts = (text: string): readonly [string, number] => {
    const [, letters = text, digits = ''] = /^(.*?)(\d+)\D*$/.exec(text) ?? [];
    return [letters, digits === '' ? -1 : Number(digits)];
  };
  const [lettersA, numberA] = parts(a);
  const [lettersB, numberB] = parts(b);
  return compareText(lettersA, lettersB) || numberA - numberB || compareText(a, b);
}

/** Each date is unrolled from its longest pause on, so that a night shoot stays in order. Equal starts keep the given order. */
function sortByClock(clips: readonly ClockedClip[]): readonly ClockedClip[] {
  const dated = clips.every((clip) => clip.date !== undefined);
  const days = groupBy(clips, (clip) => (dated ? (clip.date ?? '') : ''));
  return [...days].toSorted(([a], [b]) => compareText(a, b)).flatMap(([, day]) => unroll(day));
}

function unroll(clips: readonly ClockedClip[]): readonly ClockedClip[] {
  const onDial = clips.map((clip) => ({ clip, at: secondsOfDay(clip) })).toSorted((a, b) => a.at - b.at);
  let first = 0;
  let longest = -1;
  onDial.forEach(({ clip }, index) => {
    const before = onDial.at(index - 1)?.clip ?? clip;
    const pause = secondsForward(before, clip);
    const firstId = onDial[first]?.clip.id ?? '';
    if (pause > longest || (pause === longest && compareText(clip.id, firstId) < 0)) {
      first = index;
      longest = pause;
    }
  });
  return [...onDial.slice(first), ...onDial.slice(0, first)].map(({ clip }) => clip);
}

/** A camera cannot record two clips at once, so a stretch of timecode on two of them is no clock, unless one is a copy of the other. */
function overlaps(order: readonly ClockedClip[]): boolean {
  return order.some((clip, place) => {
    const next = order[place + 1];
    // Less than two frames is how roughly a length is known.
    return next !== undefined && secondsForward(clip, next) + 0.05 < secondsOfLabels(clip) && !sameRecording(clip, next);
  });
}
