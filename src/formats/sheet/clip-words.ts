import type { Clip, Role } from '../../core/material/clip.ts';
import type { FrameRate } from '../../core/timecode/rate.ts';
import { framesPerLabel, labelOfFrame } from '../../core/timecode/half-rate.ts';
import { rateName } from '../../core/timecode/rate.ts';
import { formatTimecode } from '../../core/timecode/timecode.ts';

/** What is printed where nobody states a value. */
export const NOT_ON_RECORD = 'not on record';

const ROLE_NAMES: Readonly<Record<Role, string>> = {
  lead: 'lead pass', swapped: 'swapped pass', clean: 'clean plate', reference: 'reference', element: 'element', unknown: 'role unknown',
};

/** "swapped pass": what the trade calls a role. */
export function roleName(role: Role): string {
  return ROLE_NAMES[role];
}

/** The last part of the clip's file name: long folders stand elsewhere. */
export function shortName({ file }: Pick<Clip, 'file'>): string {
  return file.slice(file.lastIndexOf('/') + 1);
}

/** "27B take 3, circled". */
export function takeWords({ slate, circled }: Clip): string {
  if (slate === undefined) return 'no slate';
  const name = `${slate.prefix}${slate.scene}${slate.setUp}`;
  const take = slate.take === undefined ? '' : ` take ${slate.take}`;
  return `${name}${take}${slate.pickUp ? ', pick-up' : ''}${slate.series ? ', series' : ''}${circled === true ? ', circled' : ''}`;
}

/**
 * The timecode label of a frame of the clip, counted from its first; undefined when the clip has no timecode. Where timecode
 * counts slower than pictures (30 labels on 59.94 files) two pictures share one label.
 */
export function labelAt(clip: Clip, frame: number): string | undefined {
  if (clip.start === undefined) return undefined;
  const perLabel = clip.rate === undefined ? undefined : framesPerLabel(clip.rate, clip.start.format);
  return formatTimecode(labelOfFrame(clip.start, frame, perLabel ?? 1));
}

/** The number by which people find a frame: the one in the file name for a sequence, else counted from 0. */
export function frameNumber(clip: Clip, frame: number): number {
  return clip.sequence === undefined ? frame : clip.sequence.first + frame;
}

/** Pictures from the clip's first to its last, holes of a sequence counted. */
export function spanFrames({ sequence, frames }: Clip): number | undefined {
  return sequence === undefined ? frames : sequence.last - sequence.first + 1;
}

/** "23.976 fps", with the sensor's rate when it ran at another. */
export function rateWords({ rate, sensorRate }: { readonly rate?: FrameRate; readonly sensorRate?: FrameRate }): string {
  if (rate === undefined) return NOT_ON_RECORD;
  const name = `${rateName(rate)} fps`;
  return sensorRate === undefined || rateName(sensorRate) === rateName(rate) ? name : `${name}, sensor ${rateName(sensorRate)}`;
}

/** How long a number of frames runs: "10.0 s" to a tenth. */
export function secondsWords(frames: number, rate: FrameRate): string {
  return `${((frames * rate.den) / rate.num).toFixed(1)} s`;
}

/** "1 frame", "12 frames". */
export function framesWords(count: number): string {
  return `${count} frame${count === 1 ? '' : 's'}`;
}
