import { FIELDS } from './heading.ts';
import type { Field, Source, SourceKind, Statement } from './statement.ts';

/** What people decide and write down; of these the log is believed first. All other fields are facts of the camera. */
const HUMAN: ReadonlySet<Field> = new Set<Field>(['slate', 'take', 'scene', 'setup', 'pass', 'forSlate', 'circled', 'notes', 'method']);

/** Lower is believed first. For the camera's facts the file itself, its sidecar, the report, the name; for people's the report first. */
const TECHNICAL_RANK: Readonly<Record<SourceKind, number>> = { correction: 0, embedded: 1, sidecar: 2, report: 3, note: 4, name: 5 };
const HUMAN_RANK: Readonly<Record<SourceKind, number>> = { correction: 0, report: 1, note: 2, sidecar: 3, embedded: 4, name: 5 };

/** Whether a field is people's word (slate, pass, notes) rather than the camera's (rate, lens, exposure). */
export function isHumanField(field: Field): boolean {
  return HUMAN.has(field);
}

/** How far from most trusted a kind of source is for a field; 0 is a correction. */
export function trustRank(field: Field, kind: SourceKind): number {
  return (HUMAN.has(field) ? HUMAN_RANK : TECHNICAL_RANK)[kind];
}

/** Most trusted first; two sources of one kind by file, place and text, so that the order of reading never matters. */
export function compareTrust(a: Statement, b: Statement): number {
  return (
    trustRank(a.field, a.source.kind) - trustRank(b.field, b.source.kind) ||
    compareCodeUnits(a.source.file, b.source.file) ||
    comparePlaces(a.source.place, b.source.place) ||
    compareCodeUnits(a.raw, b.raw)
  );
}

/** Code-unit order, the same on every machine. */
export function compareCodeUnits(a: string, b: string): number {
  return a < b ? -1 : Number(a > b);
}

/** 4 for "line 4, column take"; -1 when the place is no line. */
function lineOf(place: string): number {
  return place.startsWith('line ') ? Number.parseInt(place.slice(5), 10) : -1;
}

/** "line 9" before "line 10". */
export function comparePlaces(a: string, b: string): number {
  return lineOf(a) - lineOf(b) || compareCodeUnits(a, b);
}

/** Whether two values stand in one row of a report, or in one file: what is said there is said together. */
export function isSaidTogether(a: Source, b: Source): boolean {
  return a === b || (a.kind === b.kind && a.file === b.file && lineOf(a.place) === lineOf(b.place));
}

/** The statements of one clip, each field's together and most trusted first. Made by `sayByField`, read by `allOf` and `firstOf`. */
export interface SaidByField {
  /** In the order of `FIELDS`; a field of which nothing is said has no list. */
  readonly lists: readonly (readonly Statement[] | undefined)[];
}

/** Place of each field in `lists`: a list by number is many times cheaper to make than a map, and there is one for every clip. */
const PLACE_OF = new Map<Field, number>(FIELDS.map((field, place) => [field, place]));

const NO_LISTS: readonly (Statement[] | undefined)[] = FIELDS.map(() => undefined);

/** Sorts what is said of one clip into fields. */
export function sayByField(...sources: readonly (readonly Statement[])[]): SaidByField {
  const lists = NO_LISTS.slice();
  for (const statements of sources) {
    for (const statement of statements) {
      const place = placeOf(statement.field);
      const list = lists[place];
      if (list === undefined) lists[place] = [statement];
      else list.push(statement);
    }
  }
  for (const list of lists) if (list !== undefined && list.length > 1) list.sort(compareTrust);
  return { lists };
}

type StatementOf<F extends Field> = Extract<Statement, { readonly field: F }>;

/** All statements of one field, most trusted first. */
export function allOf<F extends Field>(said: SaidByField, field: F): readonly StatementOf<F>[] {
  // Every list holds the statements of its own field alone: `sayByField` put them there.
  return (said.lists[placeOf(field)] ?? NOTHING) as readonly StatementOf<F>[];
}

/** The most trusted statement of one field. */
export function firstOf<F extends Field>(said: SaidByField, field: F): StatementOf<F> | undefined {
  return allOf(said, field)[0];
}

const NOTHING: readonly Statement[] = [];

function placeOf(field: Field): number {
  return PLACE_OF.get(field) ?? 0;
}
