import type { FrameRate } from '../../core/timecode/rate.ts';
import { hasDropFrame, nominalBase } from '../../core/timecode/rate.ts';
import type { TimecodeFormat } from '../../core/timecode/timecode.ts';
import { TimecodeError, parseLabel } from '../../core/timecode/timecode.ts';

/** A time of an event: frames from 00:00:00:00 and how they are counted. `stated` when the label itself says so. */
export interface ListTime {
  readonly frame: number;
  readonly format: TimecodeFormat;
  readonly stated: boolean;
}

/**
 * Reads a time of an edit list. ";" (and "," of old lists) is drop frame, "." of old lists is not; ":" leaves it to the list's FCM
 * line. A time of digits alone is a count of frames.
 * @throws {TimecodeError} when the label does not exist.
 */
export function readListTime(text: string, rate: FrameRate, listDrops: boolean): ListTime {
  const base = nominalBase(rate);
  if (/^\d+$/u.test(text)) return { frame: Number(text), format: { base, drop: listDrops && hasDropFrame(rate) }, stated: false };
  const semicolon = /[;,]\d{1,3}$/u.test(text);
  if (semicolon && !hasDropFrame(rate)) throw new TimecodeError(text, `";" means drop frame, which does not exist at ${base} labels a second`);
  const stated = semicolon || text.includes('.');
  const drop = hasDropFrame(rate) && (stated ? semicolon : listDrops);
  const format = { base, drop };
  // The last separator is judged above; the label itself is read alike whatever it is.
  return { frame: parseLabel(text.replaceAll(/[;.,]/gu, ':'), format).frame, format, stated };
}

/** The frames field of a time, for telling that a list was read at too low a rate. */
export function framesField(text: string): number | undefined {
  const field = /[:;.,](\d{1,3})$/u.exec(text)?.[1];
  return field === undefined ? undefined : Number(field);
}
