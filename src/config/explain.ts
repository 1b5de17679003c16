import { z } from 'zod';
import { nearestWord } from './nearest-word.ts';
import { meantValue } from './suggest.ts';
import type { YamlText } from './yaml-text.ts';

/** Something wrong in a YAML file: where ("12:5", line and column), under which key, what was found, what belongs there, what to do. */
export interface YamlProblem {
  readonly at: string;
  /** "handles.head"; places in lists are counted from 1. */
  readonly key: string;
  readonly found: string;
  readonly expected: string;
  readonly remedy: string;
}

/** Enough to see what is wrong with a file; finding the place of each takes its time. */
const MOST_PROBLEMS = 100;
const MOST_SHOWN = 100;

type Path = readonly PropertyKey[];
type Described = z.core.JSONSchema.BaseSchema;

/** `day03.yaml:12:5: handles.head: found "abc", expected a whole number of frames. Write for example head: 8.` */
export function formatProblem(from: string, { at, key, found, expected, remedy }: YamlProblem): string {
  return `${from}:${at}: ${key === '' ? '' : `${key}: `}found ${found}, expected ${expected}. ${remedy}.`;
}

/** What to write at a place where something else stands; undefined when the schema's own example must do. */
export type Suggest = (path: Path, written: unknown) => unknown;

/** Every problem of a file against its schema, in the order of the file; empty when there is none. */
export function explainYaml(schema: z.ZodType, yaml: YamlText, suggest?: Suggest): readonly YamlProblem[] {
  const faults = yaml.problems.map(({ at, message }) => ({
    at,
    key: '',
    found: `broken YAML (${message})`,
    expected: 'readable YAML',
    remedy: 'Look at the indent, the quotes and the brackets here, and let each key stand once',
  }));
  return faults.length > 0 ? faults : explainValue(schema, yaml, [], suggest);
}

/** Every problem of the part of a file at `path` against the schema of that part. */
export function explainValue(schema: z.ZodType, yaml: YamlText, path: Path, suggest?: Suggest): readonly YamlProblem[] {
  const value = valueAt(yaml.value, path);
  const parsed = schema.safeParse(value);
  if (parsed.success) return [];
  const described = z.toJSONSchema(schema, { io: 'input' });
  return sortProblems(
    parsed.error.issues.slice(0, MOST_PROBLEMS).flatMap((issue) => {
      const place = { path: [...path, ...issue.path], described: describedAt(described, issue.path), value: valueAt(value, issue.path) };
      return issue.code === 'unrecognized_keys' ? issue.keys.slice(0, MOST_PROBLEMS).map((key) => explainKey(key, place, yaml)) : [explainIssue(issue, place, yaml, suggest)];
    }),
  );
}

/** In the order of lines and columns. */
export function sortProblems(problems: readonly YamlProblem[]): readonly YamlProblem[] {
  const order = ({ at }: YamlProblem): number => {
    const [line, column] = at.split(':');
    return Number(line) * 100_000 + Number(column);
  };
  return problems.toSorted((a, b) => order(a) - order(b));
}

/** A path as people read it: places in lists counted from 1. */
export function dotted(path: Path): string {
  return path.map((segment) => (typeof segment === 'number' ? String(segment + 1) : String(segment))).join('.');
}

interface Place {
  readonly path: Path;
  readonly described: Described | undefined;
  readonly value: unknown;
}

function explainKey(key: string, { path, described }: Place, yaml: YamlText): YamlProblem {
  const known = Object.keys(described?.properties ?? {});
  const near = nearestWord(key.toLowerCase().replaceAll(/[-\s]/g, '_'), known);
  return {
    at: yaml.at([...path, key], 'key'),
    key: dotted([...path, key]),
    found: 'an unknown key',
    expected: `one of ${known.join(', ')}`,
    remedy: near === undefined ? 'Take it out' : `Write "${near}", or take it out`,
  };
}

function explainIssue(issue: z.core.$ZodIssue, { path, described, value }: Place, yaml: YamlText, suggest?: Suggest): YamlProblem {
  const name = path.at(-1);
  if (issue.code === 'invalid_key') {
    return {
      at: yaml.at(path, 'key'),
      key: dotted(path),
      found: `${spoken(name)} as a name`,
      expected: 'small letters, digits and "-", a letter first',
      remedy: 'Write the name that way',
    };
  }
  const meant = meantValue(value, described ?? {}) ?? suggest?.(path, value);
  const example = inline(meant ?? described?.examples?.at(0) ?? '…');
  return {
    at: yaml.at(path),
    key: dotted(path),
    found: spoken(value),
    expected: described?.description ?? issue.message,
    remedy: `Write for example ${typeof name === 'string' ? `${name}: ${example}` : example}`,
  };
}

/** Follows a path through a JSON Schema to what it says of that place. */
function describedAt(root: Described, path: Path): Described | undefined {
  const [segment, ...rest] = path;
  if (segment === undefined) return root;
  const next = typeof segment === 'number' ? root.items : (root.properties?.[String(segment)] ?? root.additionalProperties);
  return typeof next === 'object' && !Array.isArray(next) ? describedAt(next, rest) : undefined;
}

function valueAt(value: unknown, path: Path): unknown {
  let place = value;
  for (const segment of path) {
    if (typeof place !== 'object' || place === null) return undefined;
    place = Reflect.get(place, segment);
  }
  return place;
}

function spoken(value: unknown): string {
  if (value === null || value === undefined) return 'nothing';
  if (Array.isArray(value)) return 'a list';
  const written = typeof value === 'object' ? 'a map' : JSON.stringify(value);
  return written.length > MOST_SHOWN ? `${written.slice(0, MOST_SHOWN)}…` : written;
}

function inline(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(inline).join(', ')}]`;
  if (typeof value === 'object' && value !== null) {
    return `{ ${Object.entries(value).map(([key, inner]) => `${key}: ${inline(inner)}`).join(', ')} }`;
  }
  return String(value);
}
