import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Plane } from '../../../../src/core/picture/split/seam.ts';
import { bottleneck, cheapestSeam, cumulativeCost, widestClearance } from '../../../../src/core/picture/split/seam.ts';

function plane(rows: readonly (readonly number[])[]): Plane {
  return { width: rows[0]?.length ?? 0, height: rows.length, values: rows.flat() };
}

const planes = fc
  .tuple(fc.integer({ min: 1, max: 5 }), fc.integer({ min: 1, max: 4 }))
  .chain(([width, height]) => fc.array(fc.array(fc.integer({ min: 0, max: 9 }), { minLength: width, maxLength: width }), { minLength: height, maxLength: height }));

/** Every line there is, one by one. */
function allLines({ width, height }: Plane): readonly (readonly number[])[] {
  let lines: readonly (readonly number[])[] = Array.from({ length: width }, (_, x) => [x]);
  for (let y = 1; y < height; y++) {
    lines = lines.flatMap((line) => [-1, 0, 1].map((step) => (line.at(-1) ?? 0) + step).filter((x) => x >= 0 && x < width).map((x) => [...line, x]));
  }
  return lines;
}

describe('the cheapest line', () => {
  // Worked by hand after Efros & Freeman 2001, "Image quilting", section 2.1: E = e + the least of the three above.
  const worked = plane([[3, 1, 4, 1, 5], [9, 2, 6, 5, 3], [5, 8, 9, 7, 9]]);

  it('sums costs row by row as the paper says', () => {
    expect([...cumulativeCost(worked)]).toEqual([3, 1, 4, 1, 5, 10, 3, 7, 6, 4, 8, 11, 12, 11, 13]);
  });

  it('is found by walking back up from the least sum', () => {
    const seam = cheapestSeam(worked);
    expect(seam?.value).toBe(8);
    expect([...(seam?.columns ?? [])]).toEqual([1, 1, 0]);
  });

  it('is as cheap as the best of all lines tried one by one', () => {
    fc.assert(fc.property(planes, (rows) => {
      const tried = plane(rows);
      const sum = (line: readonly number[]): number => line.reduce((total, x, y) => total + (rows[y]?.[x] ?? 0), 0);
      const seam = cheapestSeam(tried);
      expect(seam?.value).toBe(Math.min(...allLines(tried).map(sum)));
      expect(sum([...(seam?.columns ?? [])])).toBe(seam?.value);
    }));
  });

  it('does not exist where a row is closed from side to side', () => {
    expect(cheapestSeam(plane([[1, 1], [Infinity, Infinity], [1, 1]]))).toBeUndefined();
  });
});

describe('the widest line', () => {
  it('keeps the clearance of its tightest place', () => {
    // Worked by hand: min-max form of the same recurrence.
    const clearance = plane([[0, 3, 1, 4, 0], [0, 2, 2, 3, 0], [0, 1, 3, 5, 0]]);
    expect([...bottleneck(clearance)].slice(10)).toEqual([0, 1, 3, 3, 0]);
    expect(widestClearance(clearance)).toBe(3);
  });

  it('is as wide as the best of all lines tried one by one', () => {
    fc.assert(fc.property(planes, (rows) => {
      const tried = plane(rows);
      const tightest = (line: readonly number[]): number => Math.min(...line.map((x, y) => rows[y]?.[x] ?? 0));
      expect(widestClearance(tried)).toBe(Math.max(...allLines(tried).map(tightest)));
    }));
  });
});
