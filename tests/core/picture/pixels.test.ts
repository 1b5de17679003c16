import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { frameFromSixteenBit, lumaFrame } from '../../../src/core/picture/frame.ts';
import { findBlobs } from '../../../src/core/picture/pixels/blobs.ts';
import { boxBlur, gaussianBlur } from '../../../src/core/picture/pixels/blur.ts';
import { dilate, erode, tidy } from '../../../src/core/picture/pixels/morphology.ts';
import { median, quantile, spread } from '../../../src/core/picture/pixels/order.ts';
import { sampleBilinear } from '../../../src/core/picture/pixels/sample.ts';
import { solveEquations } from '../../../src/core/picture/registration/solve.ts';
import { gaussianFrom, randomFrom } from '../../support/random.ts';

const codes = fc.array(fc.integer({ min: -500, max: 500 }), { minLength: 1, maxLength: 60 });

describe('order', () => {
  it('picks what sorting would pick', () => {
    fc.assert(fc.property(codes, fc.double({ min: 0, max: 1, noNaN: true }), (values, share) => {
      const sorted = values.toSorted((a, b) => a - b);
      expect(quantile(values, share)).toBe(sorted[Math.round(share * (sorted.length - 1))]);
      const half = sorted.length / 2;
      expect(median(values)).toBe(((sorted[Math.ceil(half) - 1] ?? 0) + (sorted[Math.floor(half)] ?? 0)) / 2);
    }));
  });

  it('gives the spread of Gaussian values', () => {
    const gaussian = gaussianFrom(randomFrom(1));
    expect(spread(Float32Array.from({ length: 20_000 }, () => 5 + 3 * gaussian()))).toBeCloseTo(3, 1);
  });
});

describe('blurs', () => {
  it('keep an even picture even and spread a point by their own width', () => {
    const even = lumaFrame(20, 12, new Float32Array(240).fill(7));
    for (const blurred of [gaussianBlur(even, 1.5), boxBlur(even, 2)]) for (const value of blurred.values) expect(value).toBeCloseTo(7, 4);
    const point = lumaFrame(31, 31);
    point.values[15 * 31 + 15] = 1;
    const spot = gaussianBlur(point, 2);
    const squares = spot.values.reduce((sum, value, i) => sum + value * ((i % 31) - 15) ** 2, 0);
    expect(spot.values.reduce((sum, value) => sum + value, 0)).toBeCloseTo(1, 4);
    expect(squares).toBeCloseTo(4, 0);
  });

  it('average the square round a pixel', () => {
    const frame = lumaFrame(5, 5, Float32Array.from({ length: 25 }, (_, i) => i * i));
    const around = [6, 7, 8, 11, 12, 13, 16, 17, 18].reduce((sum, i) => sum + i * i, 0) / 9;
    expect(boxBlur(frame, 1).values[12]).toBeCloseTo(around, 3);
  });
});

describe('pixels', () => {
  it('come from 16 bits as 8-bit codes with their fractions', () => {
    expect([...frameFromSixteenBit(3, 1, Uint16Array.of(0, 257, 65_535)).values]).toEqual([0, 1, 255]);
    expect(() => lumaFrame(4, 4, new Float32Array(15))).toThrow(RangeError);
  });

  it('are sampled between by their distances', () => {
    const slope = lumaFrame(8, 6, Float32Array.from({ length: 48 }, (_, i) => 3 * (i % 8) + 10 * Math.floor(i / 8)));
    fc.assert(fc.property(fc.double({ min: 0, max: 7, noNaN: true }), fc.double({ min: 0, max: 5, noNaN: true }), (x, y) => {
      expect(sampleBilinear(slope, x, y)).toBeCloseTo(3 * x + 10 * y, 3);
    }));
  });
});

describe('masks', () => {
  const drawn = (...rows: readonly string[]): Uint8Array => Uint8Array.from(rows.join(''), (mark) => (mark === '#' ? 1 : 0));

  it('fall into blobs that touch, corners too, largest first', () => {
    const blobs = findBlobs(drawn('##...', '..#..', '.....', '....#'), 5, 1);
    expect(blobs.map(({ left, top, width, height, area }) => [left, top, width, height, area])).toEqual([[0, 0, 3, 2, 3], [4, 3, 1, 1, 1]]);
  });

  it('do not touch round the edge of the frame', () => {
    expect(findBlobs(drawn('...#', '#...'), 4, 1)).toHaveLength(2);
    expect([...dilate(drawn('...#', '....'), 4, { from: 0, to: 1 })]).toEqual([...drawn('..##', '....')]);
  });

  it('lose specks and keep bodies', () => {
    const body = ['.......', '.......', '...##..', '...##..', '.......', '.......'];
    expect([...tidy(drawn('#......', ...body.slice(1)), 7)]).toEqual([...drawn(...body)]);
    expect([...erode(drawn('....', '.###', '.###', '.###'), 4, { from: -1, to: 1 })]).toEqual([...drawn('....', '....', '..##', '..##')]);
  });
});

describe('equations', () => {
  it('are solved, and refused when they do not decide', () => {
    expect([...(solveEquations(Float64Array.of(0, 2, 2, 1), Float64Array.of(4, 5)) ?? [])]).toEqual([1.5, 2]);
    expect(solveEquations(Float64Array.of(1, 1, 1, 1), Float64Array.of(1, 1))).toBeUndefined();
  });
});
