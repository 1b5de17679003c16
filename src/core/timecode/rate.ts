/** Frames per second as an exact fraction in lowest terms, e.g. 24000/1001. Never a float: 23.976 × n drifts, 24000/1001 × n does not. */
export interface FrameRate {
  readonly num: number;
  readonly den: number;
}

/** The rates the trade uses, by the name people write. Bases as in SMPTE ST 12-1 (up to 60) and ST 12-3 (100, 120). */
const TRADE_RATES: readonly (readonly [string, number, number])[] = [
  ['23.976', 24000, 1001],
  ['24', 24, 1],
  ['25', 25, 1],
  ['29.97', 30000, 1001],
  ['30', 30, 1],
  ['47.952', 48000, 1001],
  ['48', 48, 1],
  ['50', 50, 1],
  ['59.94', 60000, 1001],
  ['60', 60, 1],
  ['72', 72, 1],
  ['90', 90, 1],
  ['96', 96, 1],
  ['100', 100, 1],
  ['119.88', 120000, 1001],
  ['120', 120, 1],
];

/**
 * How far a written decimal may lie from a trade rate and still mean it: 23.98, 23.976 and 23.97 (cut off after two digits) all
 * mean 24000/1001; 24, which is 0.024 away, does not.
 */
const SNAP_TOLERANCE = 0.0065;

/**
 * A rate from whole numbers, reduced to lowest terms.
 * @throws {RangeError} when either is not a positive whole number.
 */
export function frameRate(num: number, den = 1): FrameRate {
  if (!Number.isSafeInteger(num) || !Number.isSafeInteger(den) || num <= 0 || den <= 0) {
    throw new RangeError(`a frame rate is a fraction of two positive whole numbers, not ${num}/${den}`);
  }
  const divisor = greatestCommonDivisor(num, den);
  return { num: num / divisor, den: den / divisor };
}

/**
 * The exact rate a decimal stands for: the trade rate within 0.0065, else the decimal itself as a fraction of thousandths.
 * Undefined when it is not a finite number above 0.
 */
export function rateFromDecimal(decimal: number): FrameRate | undefined {
  if (!Number.isFinite(decimal) || decimal <= 0 || decimal > 100_000) return undefined;
  let best: FrameRate | undefined;
  let bestDistance = SNAP_TOLERANCE;
  for (const [, num, den] of TRADE_RATES) {
    const distance = Math.abs(decimal - num / den);
    if (distance < bestDistance) {
      best = { num, den };
      bestDistance = distance;
    }
  }
  if (best !== undefined) return best;
  const thousandths = Math.round(decimal * 1000);
  return thousandths === 0 ? undefined : frameRate(thousandths, 1000);
}

/** The exact rate of a fraction or a decimal as text: `24000/1001`, `23.976`, `24`. Undefined when it is neither. */
export function rateFromText(text: string): FrameRate | undefined {
  const parts = /^(\d{1,9}(?:\.\d{1,9})?)(?:\/(\d{1,9}))?$/.exec(text.trim());
  const [, over, under] = parts ?? [];
  if (over === undefined) return undefined;
  if (under === undefined) return rateFromDecimal(Number(over));
  return Number.isInteger(Number(over)) && Number(over) > 0 && Number(under) > 0 ? frameRate(Number(over), Number(under)) : undefined;
}

/** Whether two rates are the same fraction. */
export function sameRate(a: FrameRate, b: FrameRate): boolean {
  return a.num === b.num && a.den === b.den;
}

/** Negative, zero or positive as `a` is slower than, equal to or faster than `b`; exact. */
export function compareRates(a: FrameRate, b: FrameRate): number {
  return a.num * b.den - b.num * a.den;
}

/** `24000/1001`, `24/1`: the form `report.json` uses. */
export function formatRate(rate: FrameRate): string {
  return `${rate.num}/${rate.den}`;
}

/** `23.976`, `24`, `29.97`: the name people use; other rates to three decimals. */
export function rateName(rate: FrameRate): string {
  const known = TRADE_RATES.find(([, num, den]) => rate.num === num && rate.den === den);
  return known === undefined ? String(Math.round((rate.num / rate.den) * 1000) / 1000) : known[0];
}

/** Frames per second as a number, for the edge only (drawing, filters of other programs). */
export function rateAsNumber(rate: FrameRate): number {
  return rate.num / rate.den;
}

/** Whole labels per second: 24 for 24000/1001 and for 24. */
export function nominalBase(rate: FrameRate): number {
  return Math.round(rate.num / rate.den);
}

/** Whether drop-frame labels exist at this rate: only 29.97, 59.94 and 119.88. */
export function hasDropFrame(rate: FrameRate): boolean {
  return rate.den === 1001 && (rate.num === 30000 || rate.num === 60000 || rate.num === 120000);
}

function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b);
}
