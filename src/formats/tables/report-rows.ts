import type { ClipNote } from '../../core/material/day.ts';
import type { ReadingProblem } from '../../core/material/finding.ts';
import type { Field, Source } from '../../core/material/statement.ts';
import { folderOf } from '../sidecars/stem.ts';
import { readHeading } from '../values/heading-unit.ts';
import type { CellReading } from '../values/field.ts';
import { readCell } from '../values/field.ts';
import type { CellUnit } from '../values/unit.ts';
import { CellLog } from './cell-log.ts';
import type { CountedCell } from './cells-above.ts';
import { countCells } from './cells-above.ts';
import type { Column } from './columns.ts';
import { isDistance, settleUnits } from './mixed-units.ts';
import type { TableRow } from './split-rows.ts';

/**
 * Camera report or script log: one note a row, each cell with its line and heading. A row that says nothing is left out; `unread` are lines that
 * were left out before.
 */
export function readReportRows(
  file: string, columns: readonly Column[], rows: readonly TableRow[], headings: Readonly<Record<string, Field>>, unread: readonly number[] = [],
): { readonly notes: readonly ClipNote[]; readonly problems: readonly ReadingProblem[] } {
  const log = new CellLog(file);
  const known = columns.flatMap((column) => {
    const { field, unit } = readHeading(column.heading, headings);
    return field === undefined ? [] : [{ column, field, unit }];
  });
  const counted = countCells(known, rows, unread);
  const units = known.map(({ column: { heading }, field, unit }, at) =>
    unit !== undefined || !isDistance(field) ? undefined : settleUnits(file, counted.map(({ row, block, cells }) => ({ line: row.line, heading, raw: cells[at]?.raw ?? '', block }))),
  );
  const notes = counted.flatMap(({ row: { line }, cells }) => {
    const statements = known.flatMap(({ column: { heading }, field, unit }, at) => {
      const cell = cells[at] ?? NO_CELL;
      const taken = units[at]?.taken.get(line);
      const reading = readCounted(cell, field, unit ?? taken?.unit, { kind: 'report', file, place: placeOf(line, heading, cell) });
      const assumed = reading.assumed ?? taken?.assumed;
      log.keep({ ...reading, ...(assumed === undefined ? {} : { assumed }) }, { line, heading, raw: cell.raw });
      if (cell.how === 'carried') log.carry({ line, heading, raw: cell.raw });
      return reading.statements;
    });
    return statements.length === 0 ? [] : [{ kind: 'report' as const, file, place: `line ${line}`, folder: folderOf(file), statements, tracks: [] }];
  });
  return { notes, problems: [...log.problems, ...units.flatMap((one) => one?.problems ?? [])] };
}

const NO_CELL: CountedCell = { raw: '', how: 'written' };

function placeOf(line: number, heading: string, { above, how }: CountedCell): string {
  const repeats = above === undefined ? '' : how === 'ditto' ? `, as line ${above} above` : `, blank: as line ${above} above, assumed`;
  return `line ${line}, column "${heading}"${repeats}`;
}

function readCounted({ raw, how }: CountedCell, field: Field, unit: CellUnit | undefined, source: Source): CellReading {
  if (how === 'lost') return { statements: [], expected: 'a value: this mark repeats the cell above, and none is there that it can repeat' };
  return field === 'lens' ? readLensCell(raw, source) : readCell(field, raw, unit, source);
}

/** Crews write a prime's focal length under "Lens": "35mm", or only "35". */
function readLensCell(raw: string, source: Source): CellReading {
  const length = /^\d{1,4}(?:[.,]\d+)?( ?mm)?$/i.exec(raw.trim());
  if (length === null) return readCell('lens', raw, undefined, source);
  const reading = readCell('focalLength', raw, 'mm', source);
  return length[1] === undefined && reading.statements.length > 0 ? { ...reading, assumed: 'taken as a focal length in mm, not as the name of a lens' } : reading;
}
