import { parseDecimal, parseWhole } from './number.ts';
import { plainWord } from './plain.ts';
import type { Reading } from './reading.ts';
import { BLANK, unreadable, valueOf } from './reading.ts';
import { isUnknown } from './unknown.ts';

/** A number of frames from 0: `588`, `1,200`, `8 frames`, `8f`. */
export function readFrameCount(text: string): Reading<number> {
  if (isUnknown(text)) return BLANK;
  const frames = parseWhole(plainWord(text).replace(/ ?(?:frames?|fr|f)\.?$/, ''));
  return frames === undefined ? unreadable('a number of frames such as 120') : valueOf(frames);
}

/** Seconds from a sync mark: `12.5`, `12.5 s`, `1:02.5`, `-0.5`. */
export function readSeconds(text: string): Reading<number> {
  if (isUnknown(text)) return BLANK;
  const plain = plainWord(text);
  const [, minutes, rest] = /^(\d{1,3}):(\d{1,2}(?:[.,]\d{1,6})?)$/.exec(plain) ?? [];
  const seconds = parseDecimal(rest ?? plain.replace(/ ?(?:s|secs?|seconds?)\.?$/, ''));
  if (seconds === undefined || (minutes !== undefined && seconds >= 60)) return unreadable('a time in seconds such as 12.5');
  return valueOf(seconds + 60 * Number(minutes ?? 0));
}
