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

/**
 * The statements of one clip by field. Made by `sayByField`, read by the functions below. There is one for every clip, and most
 * fields are stated once: lists are made only for those stated several times.
 */
export interface SaidByField {
  /** The most trusted statement of each field, in the order of `FIELDS`. */
  readonly firsts: readonly (Statement | undefined)[];
  /** Fields stated more than once, by their place in `FIELDS`; most trusted first. */
  readonly several: ReadonlyMap<number, readonly Statement[]>;
}

const PLACE_OF = new Map<Field, number>(FIELDS.map((field, place) => [field, place]));
const NO_FIRSTS: readonly (Statement | undefined)[] = FIELDS.map(() => undefined);

/** Sorts what is said of one clip into fields. */
export function sayByField(...sources: readonly (readonly Statement[])[]): SaidByField {
  const firsts = NO_FIRSTS.slice();
  const several = new Map<number, Statement[]>();
  for (const statements of sources) {
    for (const statement of statements) {
      const place = placeOf(statement.field);
      const first = firsts[place];
      if (first === undefined) firsts[place] = statement;
      else if (several.has(place)) several.get(place)?.push(statement);
      else several.set(place, [first, statement]);
    }
  }
  for (const [place, list] of several) firsts[place] = list.sort(compareTrust)[0];
  return { firsts, several };
}

type StatementOf<F extends Field> = Extract<Statement, { readonly field: F }>;

/** All statements of one field, most trusted first. */
export function allOf<F extends Field>(said: SaidByField, field: F): readonly StatementOf<F>[] {
  const first = firstOf(said, field);
  if (first === undefined) return [];
  // Every list holds the statements of its own field alone: `sayByField` put them there.
  return (said.several.get(placeOf(field)) ?? [first]) as readonly StatementOf<F>[];
}

/** The most trusted statement of one field. */
export function firstOf<F extends Field>(said: SaidByField, field: F): StatementOf<F> | undefined {
  // The place of a field holds statements of that field alone, as above.
  return said.firsts[placeOf(field)] as StatementOf<F> | undefined;
}

/** Everything said, field by field in the order of `FIELDS`. */
export function everythingSaid({ firsts, several }: SaidByField): readonly Statement[] {
  const all: Statement[] = [];
  firsts.forEach((first, place) => {
    const list = several.get(place);
    if (list !== undefined) all.push(...list);
    else if (first !== undefined) all.push(first);
  });
  return all;
}

function placeOf(field: Field): number {
  return PLACE_OF.get(field) ?? 0;
}
