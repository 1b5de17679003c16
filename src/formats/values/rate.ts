import type { FrameRate } from '../../core/timecode/rate.ts';
import { frameRate, hasDropFrame, rateFromDecimal, rateName } from '../../core/timecode/rate.ts';
import { plainWord } from './plain.ts';
import type { Reading } from './reading.ts';
import { BLANK, unreadable, valueOf } from './reading.ts';
import { isUnknown } from './unknown.ts';

/** A rate, and whether its timecode counts drop frame when the cell says so ("59.94 DF", "29.97 NDF"). */
export interface WrittenRate {
  readonly rate: FrameRate;
  readonly dropFrame?: boolean;
}

const EXPECTED = 'a frame rate such as 23.976, 24000/1001, 48 fps or 59.94 DF';
const SHAPE = /^(\d{1,7}(?:[.,]\d{0,9})?|[.,]\d{1,9})(?: ?[/:] ?(\d{1,9}))? ?(?:fps|f\/s|frames per second|frames\/s|hz|psf|p)?\.? ?(df|ndf|drop|non-?drop|drop frame|non-drop frame)?$/;

/** A frame rate: `23.976`, `23.98`, `24000/1001`, `24p`, `24.00p`, `48 fps`, `59.94 DF`. 0 is how exports write "not set". */
export function readRate(text: string): Reading<WrittenRate> {
  if (isUnknown(text)) return BLANK;
  const [, over, under, counting] = SHAPE.exec(plainWord(text)) ?? [];
  if (over === undefined) return unreadable(EXPECTED);
  if (Number(over.replace(',', '.')) === 0) return BLANK;
  const rate = exactRate(over.replace(',', '.'), under);
  if (rate === undefined || rate.num / rate.den > 100_000 || rate.num / rate.den < 0.001) return unreadable(EXPECTED);
  if (counting === undefined) return valueOf({ rate });
  const dropFrame = !counting.startsWith('n');
  if (dropFrame && !hasDropFrame(rate)) return unreadable(`29.97, 59.94 or 119.88 with drop frame: there is none at ${rateName(rate)} fps`);
  return valueOf({ rate, dropFrame });
}

function exactRate(over: string, under: string | undefined): FrameRate | undefined {
  // People cut 23.976 short as well as rounding it.
  if (under === undefined) return rateFromDecimal(over === '23.97' ? 23.976 : Number(over));
  const [num, den] = [Number(over), Number(under)];
  // "24/48" is two rates, not half a frame a second. 1001 may have been shortened: 16000/77 is 208000/1001.
  if (!Number.isInteger(num) || den === 0 || (den < 100 && 1001 % den !== 0)) return undefined;
  // 24000/1001 is exact as it stands; 23976/1000 is a decimal in another dress.
  return den === 1 || den === 1001 ? frameRate(num, den) : (snapped(num / den) ?? frameRate(num, den));
}

function snapped(decimal: number): FrameRate | undefined {
  const rate = rateFromDecimal(decimal);
  return rate !== undefined && (rate.den === 1 || rate.den === 1001) ? rate : undefined;
}
