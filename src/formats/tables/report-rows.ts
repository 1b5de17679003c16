import type { ClipNote } from '../../core/material/day.ts';
import type { ReadingProblem } from '../../core/material/finding.ts';
import type { Field, Source } from '../../core/material/statement.ts';
import { folderOf } from '../sidecars/stem.ts';
import { readHeading } from '../values/heading-unit.ts';
import type { CellReading } from '../values/field.ts';
import { readCell } from '../values/field.ts';
import { CellLog } from './cell-log.ts';
import type { Column } from './columns.ts';
import { cellOf } from './columns.ts';
import { checkUnits } from './mixed-units.ts';
import type { TableRow } from './split-rows.ts';

/** Camera report or script log: one note a row, each cell with its line and heading. A row that says nothing is left out. */
export function readReportRows(
  file: string, columns: readonly Column[], rows: readonly TableRow[], headings: Readonly<Record<string, Field>>,
): { readonly notes: readonly ClipNote[]; readonly problems: readonly ReadingProblem[] } {
  const log = new CellLog(file);
  const known = columns.flatMap((column) => {
    const { field, unit } = readHeading(column.heading, headings);
    return field === undefined ? [] : [{ column, field, unit }];
  });
  const notes = rows.flatMap((row) => {
    const statements = known.flatMap(({ column, field, unit }) => {
      const raw = cellOf(row, column);
      const source = { kind: 'report', file, place: `line ${row.line}, column "${column.heading}"` } as const;
      const reading = field === 'lens' ? readLensCell(raw, source) : readCell(field, raw, unit, source);
      log.keep(reading, { line: row.line, heading: column.heading, raw });
      return reading.statements;
    });
    return statements.length === 0 ? [] : [{ kind: 'report' as const, file, place: `line ${row.line}`, folder: folderOf(file), statements, tracks: [] }];
  });
  const mixed = known.flatMap(({ column, field, unit }) =>
    unit === undefined ? checkUnits(file, field, rows.map((row) => ({ line: row.line, heading: column.heading, raw: cellOf(row, column) }))) : [],
  );
  return { notes, problems: [...log.problems, ...mixed] };
}

/** Crews write a prime's focal length under "Lens": "35mm", or only "35". */
function readLensCell(raw: string, source: Source): CellReading {
  const length = /^\d{1,4}(?:[.,]\d+)?( ?mm)?$/i.exec(raw.trim());
  if (length === null) return readCell('lens', raw, undefined, source);
  const reading = readCell('focalLength', raw, 'mm', source);
  return length[1] === undefined && reading.statements.length > 0 ? { ...reading, assumed: 'taken as a focal length in mm, not as the name of a lens' } : reading;
}
