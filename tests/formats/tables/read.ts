import type { Field, FieldValues, Statement } from '../../../src/core/material/statement.ts';
import type { TableReading } from '../../../src/formats/tables/read-table.ts';
import { readTable } from '../../../src/formats/tables/read-table.ts';
import { defaultConfig } from '../../support/default-config.ts';

const { headings, mappings } = defaultConfig();

/** Reads a text as the file of a day, with the headings and mappings gemel ships with. */
export function read(text: string, file = 'day/report.csv'): TableReading {
  return readTable(new TextEncoder().encode(text), file, headings, mappings);
}

export function readBytes(bytes: Uint8Array, file = 'day/report.csv'): TableReading {
  return readTable(bytes, file, headings, mappings);
}

/** What statements say of a field, in order. */
export function said<F extends Field>(statements: readonly Statement[], field: F): readonly FieldValues[F][] {
  return statements.flatMap((statement) => (statement.field === field ? [statement.value as FieldValues[F]] : []));
}

/** Fields and values of a note, for a whole comparison. A field stated more than once has all its values. */
export function facts(statements: readonly Statement[]): Readonly<Record<string, unknown>> {
  const all: Record<string, unknown[]> = {};
  for (const { field, value } of statements) all[field] = [...(all[field] ?? []), value];
  return Object.fromEntries(Object.entries(all).map(([field, values]) => [field, values.length === 1 ? values[0] : values]));
}

/** Problems worth more than a note, as "place: found". */
export function warnings({ problems }: Pick<TableReading, 'problems'>): readonly string[] {
  return problems.filter(({ severity }) => severity !== 'note').map(({ place, found }) => `${place}: ${found}`);
}

/** Problems that are only notes, as "place: found: expected". */
export function remarks({ problems }: Pick<TableReading, 'problems'>): readonly string[] {
  return problems.filter(({ severity }) => severity === 'note').map(({ place, found, expected }) => `${place}: ${found}: ${expected}`);
}
