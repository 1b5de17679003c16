import type { MovePoint } from './mark.ts';
import { markKey } from './mark.ts';

/** Something wrong with the marks of one pass, by the mark it concerns. */
export interface MarkProblem {
  /** `missing`: the other pass has it; `repeated`: its name stands twice, the first counts; `without-time`; `backwards`: before the mark noted ahead of it; `other-order`: the passes reach it in another order. */
  readonly kind: 'missing' | 'repeated' | 'without-time' | 'backwards' | 'other-order';
  readonly pass: 'first' | 'second';
  readonly mark: string;
}

/** The marks of both passes that have one name, in the order of the first pass. */
export interface MarkPair {
  readonly first: MovePoint;
  readonly second: MovePoint;
}

/** Pairs marks by name, and says what is wrong with either list. */
export function pairMarks(first: readonly MovePoint[], second: readonly MovePoint[]): { readonly pairs: readonly MarkPair[]; readonly problems: readonly MarkProblem[] } {
  const [inFirst, inSecond] = [byName(first), byName(second)];
  const pairs = [...inFirst].flatMap(([key, point]) => {
    const other = inSecond.get(key);
    return other === undefined ? [] : [{ first: point, second: other }];
  });
  const missing = (from: ReadonlyMap<string, MovePoint>, other: ReadonlyMap<string, MovePoint>, pass: MarkProblem['pass']): readonly MarkProblem[] =>
    [...from].flatMap(([key, { name }]) => (other.has(key) ? [] : [{ kind: 'missing' as const, pass, mark: name }]));
  return {
    pairs,
    problems: [
      ...missing(inSecond, inFirst, 'first'), ...missing(inFirst, inSecond, 'second'),
      ...problemsWithin(first, 'first'), ...problemsWithin(second, 'second'),
      ...otherOrder(pairs),
    ],
  };
}

function byName(points: readonly MovePoint[]): ReadonlyMap<string, MovePoint> {
  const named = new Map<string, MovePoint>();
  for (const point of points) if (!named.has(markKey(point.name))) named.set(markKey(point.name), point);
  return named;
}

function problemsWithin(points: readonly MovePoint[], pass: MarkProblem['pass']): readonly MarkProblem[] {
  const seen = new Set<string>();
  let latest = Number.NEGATIVE_INFINITY;
  return points.flatMap(({ name, timeS }): readonly MarkProblem[] => {
    const problems: MarkProblem[] = [];
    if (seen.has(markKey(name))) problems.push({ kind: 'repeated', pass, mark: name });
    seen.add(markKey(name));
    if (timeS === undefined) problems.push({ kind: 'without-time', pass, mark: name });
    else if (timeS < latest) problems.push({ kind: 'backwards', pass, mark: name });
    latest = Math.max(latest, timeS ?? latest);
    return problems;
  });
}

/** Marks the second pass reaches before one that the first pass reaches earlier. */
function otherOrder(pairs: readonly MarkPair[]): readonly MarkProblem[] {
  let latest = Number.NEGATIVE_INFINITY;
  return inTime(pairs).flatMap(({ second: { name, timeS = latest } }): readonly MarkProblem[] => {
    const isEarly = timeS < latest;
    latest = Math.max(latest, timeS);
    return isEarly ? [{ kind: 'other-order', pass: 'second', mark: name }] : [];
  });
}

/** Pairs with a time in both, by the time of the first. */
export function inTime(pairs: readonly MarkPair[]): readonly MarkPair[] {
  return pairs.filter(({ first, second }) => first.timeS !== undefined && second.timeS !== undefined).toSorted((a, b) => (a.first.timeS ?? 0) - (b.first.timeS ?? 0));
}
