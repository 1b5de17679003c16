import type { Source, Statement } from '../../core/material/statement.ts';
import type { CellReading } from '../values/field.ts';
import { readCell } from '../values/field.ts';
import { unitOfWord } from '../values/unit.ts';
import type { MappedField } from './mapping.ts';
import { rewriteCoded } from './readings.ts';

/** Reads a coded value by its mapping. `companion` is the text of the mapping's `with` path; the raw value keeps both as written. */
export function readMapped({ field, reading, unit, with: beside }: MappedField, raw: string, companion: string, source: Source): CellReading {
  const rewritten = rewriteCoded(raw, reading, companion);
  if ('expected' in rewritten) return { statements: [], expected: rewritten.expected };
  const read = readCell(field, rewritten.text, unit === undefined ? undefined : unitOfWord(unit), source);
  const written = beside === undefined || companion.trim() === '' ? raw.trim() : `${raw.trim()}, ${companion.trim()}`;
  return { ...read, statements: read.statements.map((statement): Statement => ({ ...statement, raw: written })) };
}
