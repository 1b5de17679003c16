import FFT from 'fft.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ComplexGrid } from '../../../src/core/picture/fourier/fft.ts';
import { fourierPlan, powerOfTwoFrom, transform, transformBack, transformRow } from '../../../src/core/picture/fourier/fft.ts';
import { randomFrom } from '../../support/random.ts';

function randomGrid(width: number, height: number, seed: number): ComplexGrid {
  const random = randomFrom(seed);
  const noise = (): Float32Array => Float32Array.from({ length: width * height }, () => 2 * random() - 1);
  return { width, height, re: noise(), im: noise() };
}

function largestGap(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let most = 0;
  for (let i = 0; i < a.length; i++) most = Math.max(most, Math.abs((a[i] ?? 0) - (b[i] ?? 0)));
  return most;
}

/** The library's transform of one line of interleaved values. */
function byLibrary(re: Float32Array, im: Float32Array): { readonly re: readonly number[]; readonly im: readonly number[] } {
  const fft = new FFT(re.length);
  const line = fft.createComplexArray();
  for (let i = 0; i < re.length; i++) {
    line[2 * i] = re[i] ?? 0;
    line[2 * i + 1] = im[i] ?? 0;
  }
  const out = fft.createComplexArray();
  fft.transform(out, line);
  const parts = Array.from(out, Number);
  return { re: parts.filter((_, i) => i % 2 === 0), im: parts.filter((_, i) => i % 2 === 1) };
}

describe('the Fourier transform', () => {
  it.each([2, 4, 8, 64, 512])('gives what the npm package fft.js gives for %i values', (size) => {
    const { re, im } = randomGrid(size, 1, size);
    const expected = byLibrary(re, im);
    transformRow(re, im, 0, fourierPlan(size));
    expect(largestGap(re, expected.re)).toBeLessThan(2e-5 * Math.sqrt(size));
    expect(largestGap(im, expected.im)).toBeLessThan(2e-5 * Math.sqrt(size));
  });

  it('gives on a grid what fft.js gives along rows and then along columns', () => {
    const grid = randomGrid(32, 16, 5);
    const rows = Array.from({ length: 16 }, (_, y) => byLibrary(grid.re.slice(y * 32, y * 32 + 32), grid.im.slice(y * 32, y * 32 + 32)));
    transform(grid);
    for (let x = 0; x < 32; x++) {
      const column = byLibrary(Float32Array.from(rows, (row) => row.re[x] ?? 0), Float32Array.from(rows, (row) => row.im[x] ?? 0));
      const own = Array.from({ length: 16 }, (_, y) => grid.re[y * 32 + x] ?? 0);
      expect(largestGap(own, column.re)).toBeLessThan(1e-3);
    }
  });

  it('comes back to the values it started from', () => {
    fc.assert(fc.property(fc.integer({ min: 0, max: 5 }), fc.integer({ min: 0, max: 5 }), fc.integer(), (across, down, seed) => {
      const grid = randomGrid(2 ** across, 2 ** down, seed);
      const kept = { re: grid.re.slice(), im: grid.im.slice() };
      transform(grid);
      transformBack(grid);
      expect(Math.max(largestGap(grid.re, kept.re), largestGap(grid.im, kept.im))).toBeLessThan(1e-5);
    }), { numRuns: 40 });
  });

  it('refuses a length that is no power of two and names the next that is', () => {
    expect(() => fourierPlan(12)).toThrow(RangeError);
    expect([1, 2, 3, 180, 256, 320].map(powerOfTwoFrom)).toEqual([1, 2, 4, 256, 256, 512]);
  });
});
