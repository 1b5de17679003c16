import fc from 'fast-check';
import { munkres } from 'munkres';
import { describe, expect, it } from 'vitest';
import type { AssignmentProblem, PricedPair } from '../../../src/core/matching/assignment.ts';
import { assign } from '../../../src/core/matching/assignment.ts';

/** What an answer costs; throws when it uses a forbidden pair or gives one column away twice. */
function costOf(problem: AssignmentProblem, answer: readonly (number | undefined)[]): number {
  const taken = new Set<number>();
  return answer.reduce<number>((sum, column, row) => {
    if (column === undefined) return sum + problem.unmatchedPrice;
    if (taken.has(column)) throw new Error(`column ${column} given twice`);
    taken.add(column);
    const costs = problem.pairs.filter((pair) => pair.row === row && pair.column === column).map((pair) => pair.cost);
    if (costs.length === 0) throw new Error(`pair ${row}, ${column} is forbidden`);
    return sum + Math.min(...costs);
  }, 0);
}

/** Tries every answer there is. */
function cheapestByTrying(problem: AssignmentProblem, row = 0, taken: ReadonlySet<number> = new Set()): number {
  if (row === problem.rows) return 0;
  let best = problem.unmatchedPrice + cheapestByTrying(problem, row + 1, taken);
  for (const { column, cost } of problem.pairs.filter((pair) => pair.row === row && !taken.has(pair.column))) {
    best = Math.min(best, cost + cheapestByTrying(problem, row + 1, new Set([...taken, column])));
  }
  return best;
}

/** Up to 7 × 7; small whole costs make ties common; some costs below zero; some pairs forbidden. */
const smallProblem = fc
  .record({ rows: fc.integer({ min: 0, max: 7 }), columns: fc.integer({ min: 0, max: 7 }), unmatchedPrice: fc.integer({ min: 0, max: 12 }) })
  .chain((size) =>
    fc
      .array(fc.option(fc.integer({ min: -3, max: 15 }), { freq: 3 }), { minLength: size.rows * size.columns, maxLength: size.rows * size.columns })
      .map((cells): AssignmentProblem => ({
        ...size,
        pairs: cells.flatMap((cost, index): PricedPair[] =>
          cost === null ? [] : [{ row: Math.floor(index / size.columns), column: index % size.columns, cost }],
        ),
      })),
  );

/** A repeatable stream of numbers from 0 to 1 (a linear congruential generator, constants of Numerical Recipes). */
function numbers(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

describe('assignment', () => {
  it('finds the same cost as trying every answer, in thousands of small cases with forbidden and unmatched pairs', () => {
    fc.assert(
      fc.property(smallProblem, (problem) => {
        expect(costOf(problem, assign(problem))).toBe(cheapestByTrying(problem));
      }),
      { numRuns: 4000, seed: 27 },
    );
  });

  it.each([
    [40, 40, 1000],
    [60, 90, 1000],
    [90, 60, 1000],
    [120, 120, 7],
    [150, 150, 1_000_000],
  ])('finds the same cost as the npm package munkres on a full matrix of %i × %i', (rows, columns, range) => {
    const random = numbers(rows * 1000 + columns);
    const matrix = Array.from({ length: rows }, () => Array.from({ length: columns }, () => Math.floor(random() * range)));
    const pairs = matrix.flatMap((line, row) => line.map((cost, column) => ({ row, column, cost })));
    // A price above every sum makes giving up the last resort, which is what a full assignment is.
    const unmatchedPrice = range * (rows + columns);
    const forced = Math.max(0, rows - columns) * unmatchedPrice;
    const theirs = munkres(matrix).reduce((sum, [row, column]) => sum + (matrix[row]?.[column] ?? Number.NaN), 0);
    const problem = { rows, columns, pairs, unmatchedPrice };
    expect(costOf(problem, assign(problem)) - forced).toBe(theirs);
  });

  it('agrees with munkres to rounding when costs are fractions', () => {
    const random = numbers(5);
    const matrix = Array.from({ length: 80 }, () => Array.from({ length: 80 }, () => random()));
    const pairs = matrix.flatMap((line, row) => line.map((cost, column) => ({ row, column, cost })));
    const theirs = munkres(matrix).reduce((sum, [row, column]) => sum + (matrix[row]?.[column] ?? Number.NaN), 0);
    const problem = { rows: 80, columns: 80, pairs, unmatchedPrice: 1000 };
    expect(costOf(problem, assign(problem))).toBeCloseTo(theirs, 9);
  });

  it('leaves a row alone when its only pair costs more than the price of giving up', () => {
    expect(assign({ rows: 1, columns: 1, pairs: [{ row: 0, column: 0, cost: 11 }], unmatchedPrice: 10 })).toEqual([undefined]);
    expect(assign({ rows: 1, columns: 1, pairs: [{ row: 0, column: 0, cost: 9 }], unmatchedPrice: 10 })).toEqual([0]);
  });

  it('gives the same answer whatever the order in which the pairs are listed', () => {
    fc.assert(
      fc.property(smallProblem, fc.integer(), (problem, seed) => {
        const random = numbers(seed);
        const shuffled = problem.pairs.map((pair) => ({ pair, key: random() })).sort((a, b) => a.key - b.key);
        expect(assign({ ...problem, pairs: shuffled.map(({ pair }) => pair) })).toEqual(assign(problem));
      }),
      { numRuns: 1000, seed: 28 },
    );
  });

  it('solves pairs that have nothing to do with each other as if each stood alone', () => {
    fc.assert(
      fc.property(smallProblem, smallProblem, (one, other) => {
        const price = one.unmatchedPrice;
        const both = {
          rows: one.rows + other.rows,
          columns: one.columns + other.columns,
          pairs: [...one.pairs, ...other.pairs.map((pair) => ({ ...pair, row: pair.row + one.rows, column: pair.column + one.columns }))],
          unmatchedPrice: price,
        };
        expect(assign(both).slice(0, one.rows)).toEqual(assign(one));
      }),
      { numRuns: 1000, seed: 29 },
    );
  });
});
