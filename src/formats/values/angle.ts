import { parseDecimal, tidy } from './number.ts';
import { plainWord } from './plain.ts';
import type { Reading } from './reading.ts';
import { BLANK, unreadable, valueOf } from './reading.ts';
import { isUnknown } from './unknown.ts';

/** A camera's tilt sensor writes this when it is out of range; measured on one maker's export, no source. */
const OUT_OF_RANGE_DEG = 409.5;

/** A tilt in degrees, up is positive: `-3.5°`, `3,5`, `2° up`, `5 down`, `3°30'`, `level`. 409.5 is a camera's "out of range". */
export function readTilt(text: string): Reading<number> {
  const [, amountText, direction] = /^([^-+].*?) ?(up|down|dn)$/.exec(plainWord(text)) ?? [];
  if (amountText === undefined) return readAngle(text);
  const reading = readAngle(amountText);
  return reading.kind === 'value' && direction !== 'up' ? valueOf(tidy(-reading.value)) : reading;
}

/** An angle in degrees, -180 to 180: `-3.5°`, `3,5 deg`, `3°30'`, `level` (0). */
export function readAngle(text: string): Reading<number> {
  if (isUnknown(text)) return BLANK;
  const degrees = parseDegrees(plainWord(text));
  if (degrees !== undefined && Math.abs(degrees) === OUT_OF_RANGE_DEG) return BLANK;
  return degrees !== undefined && Math.abs(degrees) <= 180 ? valueOf(degrees) : unreadable('an angle in degrees such as -3.5°, within ±180');
}

/** A pan in degrees. A head may have turned more than once, so nothing is too large up to a hundred turns. */
export function readPan(text: string): Reading<number> {
  if (isUnknown(text)) return BLANK;
  const degrees = parseDegrees(plainWord(text));
  return degrees !== undefined && Math.abs(degrees) <= 36_000 ? valueOf(degrees) : unreadable('an angle in degrees such as -3.5°');
}

function parseDegrees(plain: string): number | undefined {
  if (plain === 'level') return 0;
  const [, sign, degrees, minutes] = /^([+-]?) ?(\d{1,3}) ?° ?(\d{1,2})'$/.exec(plain) ?? [];
  if (degrees !== undefined && minutes !== undefined) {
    return Number(minutes) < 60 ? tidy((sign === '-' ? -1 : 1) * (Number(degrees) + Number(minutes) / 60)) : undefined;
  }
  return parseDecimal(plain.replace(/ ?(?:°|deg\.?|degs|degrees?)$/, ''));
}
