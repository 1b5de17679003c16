/** An object of a timeline file, by its schema. */
export interface Typed {
  readonly name: string;
  readonly version: number;
  readonly keys: Readonly<Record<string, unknown>>;
}

/** Names that schemas went by in old files. */
const LEGACY: Readonly<Record<string, string>> = { Sequence: 'Track', Filler: 'Gap', SerializeableCollection: 'SerializableCollection' };

/** Newest versions known here: OpenTimelineIO 0.18.1, and Marker 3 of the version after it. */
const KNOWN: Readonly<Record<string, number>> = {
  Timeline: 1, Stack: 1, Track: 1, Clip: 2, Gap: 1, Transition: 1, SerializableCollection: 1,
  ExternalReference: 1, ImageSequenceReference: 1, MissingReference: 1, GeneratorReference: 1,
  Marker: 3, Effect: 1, LinearTimeWarp: 1, FreezeFrame: 1, TimeEffect: 1, RationalTime: 1, TimeRange: 1,
};

/** The object as a typed one; undefined when it is none. */
export function typed(value: unknown): Typed | undefined {
  const keys = record(value);
  const [, name, version] = /^(\w{1,80})\.(\d{1,6})$/u.exec(text(keys?.['OTIO_SCHEMA']) ?? '') ?? [];
  if (keys === undefined || name === undefined) return undefined;
  return { name: Object.hasOwn(LEGACY, name) ? (LEGACY[name] ?? name) : name, version: Number(version), keys };
}

/** Whether a schema, at its version, is one that is read here. */
export function isKnown({ name, version }: Typed): boolean {
  return Object.hasOwn(KNOWN, name) && version >= 1 && version <= (KNOWN[name] ?? 0);
}

/** The value as an object with keys; undefined when it is none. */
export function record(value: unknown): Readonly<Record<string, unknown>> | undefined {
  // A JSON object has string keys; arrays are told apart.
  return typeof value === 'object' && value !== null && !Array.isArray(value) ? (value as Readonly<Record<string, unknown>>) : undefined;
}

/** The value as a list; empty when it is none. */
export function list(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? value : [];
}

/** No name, path or remark of an edit is longer; what is beyond is not read. */
const LONGEST_TEXT = 2000;

/** The value as text that says something; undefined else. */
export function text(value: unknown): string | undefined {
  if (typeof value !== 'string') return undefined;
  const said = value.trim();
  // Half a surrogate pair at the cut would be no character.
  const held = said.length > LONGEST_TEXT ? said.slice(0, LONGEST_TEXT).replace(/[\uD800-\uDBFF]$/, '') : said;
  return held === '' ? undefined : held;
}
