import type { Clip, ClipId } from '../material/clip.ts';
import type { PlateSet } from '../material/plate-set.ts';
import { framesPerLabel } from '../timecode/half-rate.ts';
import type { Timecode } from '../timecode/timecode.ts';

/** Which plate set a clip is in. */
export type SetOf = (clip: ClipId) => PlateSet | undefined;

/** A clip on the clock of its camera. */
export interface Recorded {
  readonly clip: Clip;
  readonly start: Timecode;
  /** Labels it takes up. */
  readonly labels: number;
}

/** Clips by camera, date and way of counting; those without camera letter or timecode are on no clock that is known. */
export function onOneClock(clips: readonly Clip[]): ReadonlyMap<string, readonly Recorded[]> {
  const clocks = new Map<string, Recorded[]>();
  for (const clip of clips) {
    const { start, camera, frames } = clip;
    if (!clip.usable || start === undefined || camera === undefined || frames === undefined) continue;
    const key = [camera, clip.date ?? '', start.format.base, start.format.drop].join(' ');
    const recorded = { clip, start, labels: frames / perLabel(clip, start) };
    const clock = clocks.get(key);
    if (clock === undefined) clocks.set(key, [recorded]);
    else clock.push(recorded);
  }
  return clocks;
}

/** One where rate and labels do not fit each other: the fault is elsewhere. */
function perLabel({ rate }: Clip, { format }: Timecode): number {
  return (rate === undefined ? undefined : framesPerLabel(rate, format)) ?? 1;
}

/** Passes of one set whose method repeats a move, whose notes say that timecode was repeated, or whose starts agree to the frame. */
export function isOnPurpose(a: Recorded, b: Recorded, setOf: SetOf): boolean {
  const set = setOf(a.clip.id);
  if (set === undefined || set.id !== setOf(b.clip.id)?.id) return false;
  return a.start.frame === b.start.frame || set.method.repeatedMove || saysSo(a.clip) || saysSo(b.clip);
}

/** Words by which crews note that timecode was repeated (common practice, no source). */
const REPEATED = /\b(?:moco|motion[ -]control|play-?back|repeat(?:ed)? move|trigger(?:ed)?|same (?:tc|timecode)|equal (?:tc|timecode))\b/i;

function saysSo({ notes }: Clip): boolean {
  return notes.some((note) => REPEATED.test(note));
}

/** A motion control rig gives its own timecode, so such a clip says nothing of the clock before or after it. */
export function isOffTheClock(clip: Clip, setOf: SetOf): boolean {
  return setOf(clip.id)?.method.repeatedMove === true || saysSo(clip);
}

/** A key for two clips in either order. */
export function pairKey(a: Clip, b: Clip): string {
  return a.id < b.id ? `${a.id}\u0000${b.id}` : `${b.id}\u0000${a.id}`;
}
