import { z } from 'zod';
import type { YamlText } from './yaml-text.ts';

/** Something wrong in a YAML file, where (line and column) and what to do. */
export interface ConfigProblem {
  readonly at: string;
  /** "handles.head" */
  readonly key: string;
  readonly reason: string;
  readonly remedy: string;
}

/** `day03.yaml:12:5: handles.head: found "abc", expected a whole number of frames. Write for example "head: 8".` */
export function formatProblem(from: string, { at, key, reason, remedy }: ConfigProblem): string {
  return `${from}:${at}: ${key === '' ? '' : `${key}: `}${reason}. ${remedy}.`;
}

/** Every problem of a value against its schema, in the order of the file; empty when there is none. */
export function explainAgainst(schema: z.ZodType, yaml: YamlText): readonly ConfigProblem[] {
  const faults = yaml.problems.map(({ at, message }) => ({
    at,
    key: '',
    reason: `this is not readable YAML: ${message}`,
    remedy: 'Look at the indent, the quotes and the brackets here, and let each key stand once',
  }));
  if (faults.length > 0) return faults;
  const parsed = schema.safeParse(yaml.value);
  if (parsed.success) return [];
  const described = z.toJSONSchema(schema, { io: 'input' });
  return sortProblems(parsed.error.issues.flatMap((issue) => explainIssue(issue, yaml, described)));
}

/** In the order of lines and columns. */
export function sortProblems(problems: readonly ConfigProblem[]): readonly ConfigProblem[] {
  const key = ({ at }: ConfigProblem): number => {
    const [line, column] = at.split(':');
    return Number(line) * 100_000 + Number(column);
  };
  return problems.toSorted((a, b) => key(a) - key(b));
}

type Described = z.core.JSONSchema.BaseSchema;

function explainIssue(issue: z.core.$ZodIssue, yaml: YamlText, root: Described): readonly ConfigProblem[] {
  const described = describedAt(root, issue.path);
  if (issue.code === 'unrecognized_keys') {
    const known = Object.keys(described?.properties ?? {});
    return issue.keys.map((key) => ({
      at: yaml.at([...issue.path, key], 'key'),
      key: dotted([...issue.path, key]),
      reason: 'there is no such key',
      remedy: remedyForKey(key, known),
    }));
  }
  const name = issue.path.at(-1);
  if (issue.code === 'invalid_key') {
    return [
      {
        at: yaml.at(issue.path, 'key'),
        key: dotted(issue.path),
        reason: `found ${quoted(name)} as a name`,
        remedy: 'Use small letters, digits and "-", beginning with a letter',
      },
    ];
  }
  const found = valueAt(yaml.value, issue.path);
  const example = described?.examples?.at(0);
  return [
    {
      at: yaml.at(issue.path),
      key: dotted(issue.path),
      reason: `${found === undefined ? 'this is missing' : `found ${quoted(found)}`}, expected ${described?.description ?? issue.message}`,
      remedy: `Write for example ${typeof name === 'string' ? `${name}: ${inline(example)}` : inline(example)}`,
    },
  ];
}

function remedyForKey(key: string, known: readonly string[]): string {
  const plain = key.toLowerCase().replaceAll(/[-\s]/g, '_');
  const near = known.find((other) => other.startsWith(plain)) ?? known.find((other) => distance(plain, other) <= 2);
  return near === undefined ? `Take it out, or use one of: ${known.join(', ')}` : `Write "${near}", or take it out`;
}

/** Follows a path through a JSON Schema to what it says of that place. */
function describedAt(root: Described, path: readonly PropertyKey[]): Described | undefined {
  const [segment, ...rest] = path;
  if (segment === undefined) return root;
  const next = typeof segment === 'number' ? root.items : (root.properties?.[String(segment)] ?? root.additionalProperties);
  return typeof next === 'object' && !Array.isArray(next) ? describedAt(next, rest) : undefined;
}

function valueAt(value: unknown, path: readonly PropertyKey[]): unknown {
  let place = value;
  for (const segment of path) {
    if (typeof place !== 'object' || place === null) return undefined;
    place = Reflect.get(place, segment);
  }
  return place;
}

/** A path as people read it: places in lists counted from 1. */
export function dotted(path: readonly PropertyKey[]): string {
  return path.map((segment) => (typeof segment === 'number' ? String(segment + 1) : String(segment))).join('.');
}

function quoted(value: unknown): string {
  if (value === null) return 'nothing';
  if (Array.isArray(value)) return 'a list';
  return typeof value === 'object' ? 'a map' : JSON.stringify(value);
}

function inline(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(inline).join(', ')}]`;
  if (typeof value === 'object' && value !== null) {
    return `{ ${Object.entries(value).map(([key, inner]) => `${key}: ${inline(inner)}`).join(', ')} }`;
  }
  return String(value);
}

/** Letters to change, add or take out to get from one word to the other (Levenshtein). */
function distance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, column) => column);
  for (const [index, letter] of Array.from(a).entries()) {
    const next = [index + 1];
    for (const [column, other] of Array.from(b).entries()) {
      next.push(Math.min((row[column + 1] ?? 0) + 1, (next[column] ?? 0) + 1, (row[column] ?? 0) + (letter === other ? 0 : 1)));
    }
    row = next;
  }
  return row[b.length] ?? 0;
}
