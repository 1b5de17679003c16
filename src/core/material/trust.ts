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

/** "line 9" before "line 10". */
export function comparePlaces(a: string, b: string): number {
  const lineOf = (place: string): number => (place.startsWith('line ') ? Number.parseInt(place.slice(5), 10) : -1);
  return lineOf(a) - lineOf(b) || compareCodeUnits(a, b);
}

/** One row of a report, or one whole file: what is said there is said together. */
export function sourceUnit({ kind, file, place }: Source): string {
  return `${kind}\0${file}\0${/^line \d+/u.exec(place)?.[0] ?? ''}`;
}

/** The statements of one clip by field, each list most trusted first. */
export type SaidByField = ReadonlyMap<Field, readonly Statement[]>;

/** Sorts what is said of one clip into fields. */
export function sayByField(statements: Iterable<Statement>): SaidByField {
  const said = new Map<Field, Statement[]>();
  for (const statement of statements) {
    const list = said.get(statement.field);
    if (list === undefined) said.set(statement.field, [statement]);
    else list.push(statement);
  }
  for (const list of said.values()) if (list.length > 1) list.sort(compareTrust);
  return said;
}

type StatementOf<F extends Field> = Extract<Statement, { readonly field: F }>;

/** All statements of one field, most trusted first. */
export function allOf<F extends Field>(said: SaidByField, field: F): readonly StatementOf<F>[] {
  const list = said.get(field) ?? [];
  // Every list holds the statements of its own field alone: `sayByField` put them there.
  return list as readonly StatementOf<F>[];
}

/** The most trusted statement of one field. */
export function firstOf<F extends Field>(said: SaidByField, field: F): StatementOf<F> | undefined {
  return allOf(said, field)[0];
}
