import type { z } from 'zod';

/** What is left of a value when everything its schema refuses is taken out, and the paths of what was. */
export interface ValidPart {
  readonly value: unknown;
  readonly takenOut: readonly (readonly PropertyKey[])[];
}

/** Each round takes out at least one part; deeper nesting than this no file has. */
const MOST_ROUNDS = 8;

/**
 * The part of a value that fits its schema, so that what it contradicts can be told along with what does not fit. A list, or a map of two limits,
 * with a wrong part goes as a whole: half of it would say something else. Undefined when nothing fits.
 */
export function validPart(schema: z.ZodType, value: unknown): ValidPart | undefined {
  let left = value;
  const takenOut: (readonly PropertyKey[])[] = [];
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const parsed = schema.safeParse(left);
    if (parsed.success) return { value: left, takenOut };
    const paths = parsed.error.issues.flatMap((issue) => (issue.code === 'unrecognized_keys' ? issue.keys.map((key) => [...issue.path, key]) : [wholeOf(issue.path)]));
    if (paths.some((path) => path.length === 0)) return undefined;
    for (const path of paths) left = without(left, path);
    takenOut.push(...paths);
  }
  return undefined;
}

function wholeOf(path: readonly PropertyKey[]): readonly PropertyKey[] {
  const inList = path.findIndex((segment) => typeof segment === 'number');
  if (inList > 0) return path.slice(0, inList);
  return path[0] === 'tolerances' && path.length > 2 ? path.slice(0, 2) : path;
}

function without(value: unknown, [key, ...rest]: readonly PropertyKey[]): unknown {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return value;
  const entries = Object.entries(value);
  if (rest.length === 0) return Object.fromEntries(entries.filter(([name]) => name !== key));
  return Object.fromEntries(entries.map(([name, inner]) => [name, name === key ? without(inner, rest) : inner]));
}
