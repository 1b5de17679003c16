import { normaliseHeading } from '../../../core/material/heading.ts';
import type { Field, Statement, TrackField } from '../../../core/material/statement.ts';
import type { MappedField } from '../../sidecars/mapping.ts';
import { readMapped } from '../../sidecars/read-mapped.ts';
import type { CellReading } from '../../values/field.ts';
import type { Column } from '../columns.ts';
import { cellOf } from '../columns.ts';
import type { TableRow } from '../split-rows.ts';

/** Rows of a camera export, ready to be read by a mapping. `word`: whether they are rows with columns or blocks with keys. */
export interface ExportRows {
  readonly file: string;
  readonly columns: readonly Column[];
  readonly rows: readonly TableRow[];
  readonly word: 'column' | 'key';
}

/** One mapped column read down all rows. */
export interface ReadColumn {
  readonly mapped: MappedField;
  readonly heading: string;
  readonly cells: readonly ReadCellAt[];
}

/** One cell of it: where it stands, as written and as read. */
export interface ReadCellAt {
  readonly line: number;
  readonly raw: string;
  readonly reading: CellReading;
}

/** What may change along a take. */
export const TRACK_FIELDS = ['focalLength', 'focusDistance', 'stop', 'tilt', 'rollAngle'] as const satisfies readonly TrackField[];

/** The mapped columns. For what changes along a take the first that says anything counts: the others say the same, less finely. */
export function readColumns(rows: ExportRows, fields: readonly MappedField[]): readonly ReadColumn[] {
  const speaking = new Set<Field>();
  return fields.flatMap((mapped) => {
    if (isTrackField(mapped.field) && speaking.has(mapped.field)) return [];
    const find = (path: string): Column | undefined => rows.columns.find(({ key }) => key === normaliseHeading(path));
    const column = find(mapped.path);
    if (column === undefined) return [];
    const companion = mapped.with === undefined ? undefined : find(mapped.with);
    const known = new Map<string, CellReading>();
    const cells = rows.rows.map((row) => {
      const raw = cellOf(row, column);
      const beside = companion === undefined ? '' : cellOf(row, companion);
      // Exports repeat themselves: each different cell of a column is read once.
      const key = `${raw}\n${beside}`;
      const reading = known.get(key) ?? readMapped(mapped, raw, beside, { kind: 'report', file: rows.file, place: placeOf(rows, row.line, column.heading) });
      known.set(key, reading);
      return { line: row.line, raw, reading };
    });
    if (cells.some(({ reading }) => reading.statements.length > 0)) speaking.add(mapped.field);
    return [{ mapped, heading: column.heading, cells }];
  });
}

/** Where a cell stands, in words. */
export function placeOf({ word }: ExportRows, line: number, heading: string): string {
  return word === 'key' ? `block at line ${line}, key "${heading}"` : `line ${line}, column "${heading}"`;
}

/** The first thing a column says. */
export function statementsOf({ cells }: ReadColumn): readonly Statement[] {
  return cells.find(({ reading }) => reading.statements.length > 0)?.reading.statements ?? [];
}

/** How many different things a column says: 0 when it says nothing, 1 when it stays the same. */
export function differentCells({ cells }: ReadColumn): number {
  return new Set(cells.filter(({ reading }) => reading.statements.length > 0).map(({ raw }) => raw.trim())).size;
}

/** Whether a field may change along a take. */
export function isTrackField(field: Field): field is TrackField {
  return (TRACK_FIELDS as readonly Field[]).includes(field);
}
