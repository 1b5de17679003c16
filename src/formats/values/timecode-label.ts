import { plainText } from './plain.ts';
import type { Reading } from './reading.ts';
import { BLANK, unreadable, valueOf } from './reading.ts';
import { isUnknown } from './unknown.ts';

const EXPECTED = 'a timecode such as 14:22:33:04, or 14:22:33;04 for drop frame';

/**
 * A timecode label, kept as text: whether it exists is known only with its rate. Checked here are its shape and that hours,
 * minutes and seconds do; `14.22.33.04` and `14223304` come back with colons.
 */
export function readTimecodeLabel(text: string): Reading<string> {
  if (isUnknown(text)) return BLANK;
  const plain = plainText(text);
  const [, hours, minutes, seconds, separator, frames] =
    /^(\d{1,2})[:;.](\d{1,2})[:;.](\d{1,2})([:;.,])(\d{1,3})$/.exec(plain) ?? /^(\d\d)(\d\d)(\d\d)()(\d\d)$/.exec(plain) ?? [];
  if (/^\d{1,2}:\d{1,2}:\d{1,2}$/.test(plain)) return unreadable(`${EXPECTED}; the frames are missing`);
  if (hours === undefined || minutes === undefined || seconds === undefined || frames === undefined) return unreadable(EXPECTED);
  if (Number(hours) > 23 || Number(minutes) > 59 || Number(seconds) > 59) return unreadable(`${EXPECTED}, at most 23:59:59`);
  // "14.22.33.04" is typed so for want of a colon; "14:22:33.04" is a way to write drop frame.
  const dotted = /^\d+\.\d+\.\d+\.\d+$/.test(plain);
  return valueOf(`${hours}:${minutes}:${seconds}${dotted || separator === '' ? ':' : separator}${frames}`);
}
