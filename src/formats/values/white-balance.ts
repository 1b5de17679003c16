import { parseDecimal, parseWhole } from './number.ts';
import { plainWord } from './plain.ts';
import type { Reading } from './reading.ts';
import { BLANK, unreadable, valueOf } from './reading.ts';
import { isUnknown } from './unknown.ts';

const EXPECTED = 'a colour temperature in kelvin such as 5600K, from 1000 to 25000';

/** A white balance in kelvin: `5600K`, `5600`, `3200 K`, `5,600 K`. 0 kelvin is how cameras write "not set". Words ("tungsten") are no number. */
export function readWhiteBalance(text: string): Reading<number> {
  if (isUnknown(text)) return BLANK;
  const [, amountText] = /^([\d., ']*\d) ?(?:k|°k|° k|kelvin)?$/.exec(plainWord(text)) ?? [];
  const kelvin = amountText === undefined ? undefined : (parseWhole(amountText) ?? parseDecimal(amountText));
  if (kelvin === 0) return BLANK;
  return kelvin !== undefined && kelvin >= 1000 && kelvin <= 25_000 ? valueOf(kelvin) : unreadable(EXPECTED);
}

/** A tint as the maker counts it: `0`, `+2`, `-3`, `-3 CC`. */
export function readTint(text: string): Reading<number> {
  if (isUnknown(text)) return BLANK;
  const tint = parseDecimal(plainWord(text).replace(/ ?cc$/, ''));
  return tint !== undefined && Math.abs(tint) <= 200 ? valueOf(tint) : unreadable('a tint such as 0, +2 or -3 CC');
}
