import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { SurfaceRules } from '../../../../src/core/picture/split/surface.ts';
import { leftmostSurface, rightmostSurface, widestSurface } from '../../../../src/core/picture/split/surface.ts';

/** Rules over frames given as lists of closed columns of a single row, `width` columns wide. */
function oneRow(width: number, stepFrame: number, closed: readonly (readonly number[])[]): SurfaceRules {
  const planes = closed.map((columns) => Array.from({ length: width }, (_, x) => (columns.includes(x) ? 0 : 1)));
  return { width, height: 1, frames: closed.length, first: closed.map(() => 0), last: closed.map(() => width - 1), stepRow: 1, stepFrame, clearance: (t) => planes[t] ?? [] };
}

/** Leftmost column of each frame. */
function left(rules: SurfaceRules): readonly number[] | undefined {
  const found = leftmostSurface(rules, 0);
  return found === undefined ? undefined : [...found];
}

describe('the leftmost moving line', () => {
  // Derived by hand from the rule that neighbouring frames differ by at most the step.
  it.each([
    { closed: [[0, 1, 2], [0, 1, 2, 3, 4, 5]], step: 2, is: [4, 6] },
    { closed: [[0, 1, 2], [0, 1, 2, 3, 4, 5]], step: 1, is: [5, 6] },
    { closed: [[0, 1, 2, 4, 5], [0, 1, 2, 3, 4, 5]], step: 2, is: [6, 6] },
  ])('is $is with a step of $step past $closed', ({ closed, step, is }) => {
    expect(left(oneRow(8, step, closed))).toEqual(is);
  });

  it('does not exist when one frame is closed from side to side', () => {
    expect(left(oneRow(8, 2, [[0, 1, 2], [0, 1, 2, 3, 4, 5, 6, 7]]))).toBeUndefined();
  });

  it('agrees with trying every surface, and so does the rightmost', () => {
    const width = 4;
    const frame = fc.array(fc.integer({ min: 0, max: 2 }), { minLength: 2 * width, maxLength: 2 * width });
    fc.assert(fc.property(fc.array(frame, { minLength: 2, maxLength: 2 }), fc.integer({ min: 0, max: 2 }), (planes, stepFrame) => {
      const rules: SurfaceRules = { width, height: 2, frames: 2, first: [0, 0], last: [3, 3], stepRow: 1, stepFrame, clearance: (t) => planes[t] ?? [] };
      const feasible = everySurface(width, 4).filter((s) => {
        const [a = 0, b = 0, c = 0, d = 0] = s;
        const open = s.every((x, i) => (planes[i >> 1]?.[(i & 1) * width + x] ?? 0) > 0);
        return open && Math.abs(a - b) <= 1 && Math.abs(c - d) <= 1 && Math.abs(a - c) <= stepFrame && Math.abs(b - d) <= stepFrame;
      });
      const edge = (pick: (...x: number[]) => number): readonly number[] | undefined =>
        feasible.length === 0 ? undefined : [0, 1, 2, 3].map((i) => pick(...feasible.map((s) => s[i] ?? 0)));
      expect(left(rules)).toEqual(edge(Math.min));
      const right = rightmostSurface(rules, 0);
      expect(right === undefined ? undefined : [...right]).toEqual(edge(Math.max));
    }));
  });

  it('is as wide as bisection over the radius can make it', () => {
    const rules: SurfaceRules = { width: 9, height: 1, frames: 2, first: [0, 0], last: [8, 8], stepRow: 1, stepFrame: 2,
      clearance: (t) => [[0, 1, 2, 3, 4, 3, 2, 1, 0], [0, 1, 2, 3, 3, 3, 2, 1, 0]][t] ?? [] };
    expect(widestSurface(rules, 60)?.radius).toBe(2);
    expect([...(widestSurface(rules, 60)?.leftmost ?? [])]).toEqual([3, 3]);
    expect(widestSurface(rules, 1)?.radius).toBe(1);
  });
});

function everySurface(width: number, points: number): readonly (readonly number[])[] {
  return points === 0 ? [[]] : everySurface(width, points - 1).flatMap((rest) => Array.from({ length: width }, (_, x) => [...rest, x]));
}
