import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  compareRates, formatRate, frameRate, hasDropFrame, nominalBase, rateAsNumber, rateFromDecimal, rateFromText, rateName, sameRate,
} from '../../../src/core/timecode/rate.ts';
import { timecodeFormat } from '../../../src/core/timecode/timecode.ts';

// Exact rates and their bases: SMPTE ST 12-1 up to 60, ST 12-3 for 100 and 120.
const TRADE = [
  ['23.976', 24_000, 1001, 24, false],
  ['24', 24, 1, 24, false],
  ['25', 25, 1, 25, false],
  ['29.97', 30_000, 1001, 30, true],
  ['30', 30, 1, 30, false],
  ['47.952', 48_000, 1001, 48, false],
  ['48', 48, 1, 48, false],
  ['50', 50, 1, 50, false],
  ['59.94', 60_000, 1001, 60, true],
  ['60', 60, 1, 60, false],
  ['100', 100, 1, 100, false],
  ['119.88', 120_000, 1001, 120, true],
  ['120', 120, 1, 120, false],
] as const;

describe('a rate of the trade', () => {
  it.each(TRADE)('%s is %i/%i, base %i, drop frame %s', (name, num, den, base, drop) => {
    const rate = frameRate(num, den);
    expect(rateName(rate)).toBe(name);
    expect(rateFromText(name)).toEqual(rate);
    expect(rateFromText(`${num}/${den}`)).toEqual(rate);
    expect(rateFromDecimal(num / den)).toEqual(rate);
    expect(formatRate(rate)).toBe(`${num}/${den}`);
    expect([nominalBase(rate), hasDropFrame(rate)]).toEqual([base, drop]);
    expect(timecodeFormat(rate, false)).toEqual({ base, drop: false });
    if (drop) expect(timecodeFormat(rate, true)).toEqual({ base, drop: true });
    else expect(() => timecodeFormat(rate, true)).toThrow(RangeError);
  });

  it.each([
    ['23.98', '24000/1001'],
    ['23.97', '24000/1001'],
    ['23.976', '24000/1001'],
    ['23.976024', '24000/1001'],
    ['29.97', '30000/1001'],
    ['29.97003', '30000/1001'],
    ['47.95', '48000/1001'],
    ['59.94', '60000/1001'],
    ['119.88', '120000/1001'],
    ['24.0', '24/1'],
    ['24.000', '24/1'],
    ['12.5', '25/2'],
    ['18', '18/1'],
  ])('written %s is %s', (text, exact) => {
    expect(formatRate(rateFromText(text) ?? frameRate(1))).toBe(exact);
  });

  it('never rounds 23.976 to 24, nor 24 to 23.976', () => {
    expect(sameRate(frameRate(24_000, 1001), frameRate(24))).toBe(false);
    expect(rateFromDecimal(23.99)).toEqual({ num: 2399, den: 100 });
  });

  it.each(['', 'fast', '24p', '-24', '24/0', '0', '0/1', '23.976/1', '24/1.5', '1e3', 'Infinity', 'NaN', '24 /1', '9999999999'])('cannot be read from %j', (text) => {
    expect(rateFromText(text)).toBeUndefined();
  });
});

describe('any rate', () => {
  const anyRate = fc.tuple(fc.integer({ min: 1, max: 240_000 }), fc.integer({ min: 1, max: 2000 }));

  it('is kept in lowest terms', () => {
    expect(frameRate(48_000, 2002)).toEqual({ num: 24_000, den: 1001 });
    fc.assert(
      fc.property(anyRate, fc.integer({ min: 1, max: 50 }), ([num, den], factor) => {
        expect(frameRate(num * factor, den * factor)).toEqual(frameRate(num, den));
      }),
    );
  });

  it('compares exactly, as fractions do', () => {
    fc.assert(
      fc.property(anyRate, anyRate, (a, b) => {
        const [x, y] = [frameRate(...a), frameRate(...b)];
        expect(Math.sign(compareRates(x, y))).toBe(Math.sign(a[0] * b[1] - b[0] * a[1]));
        expect(sameRate(x, y)).toBe(a[0] * b[1] === b[0] * a[1]);
      }),
    );
  });

  it('comes back from the form it is printed in', () => {
    fc.assert(
      fc.property(anyRate, ([num, den]) => {
        expect(rateFromText(formatRate(frameRate(num, den)))).toEqual(frameRate(num, den));
      }),
    );
  });

  it.each([[0, 1], [24, 0], [-24, 1], [24.5, 1], [Number.NaN, 1], [2 ** 53, 1]])('is not made of %d/%d', (num, den) => {
    expect(() => frameRate(num, den)).toThrow(RangeError);
  });

  it('is a number only at the edge', () => {
    expect(rateAsNumber(frameRate(24_000, 1001))).toBeCloseTo(23.976_023_976, 9);
  });
});
