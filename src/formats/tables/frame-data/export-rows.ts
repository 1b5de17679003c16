import type { ClipNote } from '../../../core/material/day.ts';
import type { ReadingProblem } from '../../../core/material/finding.ts';
import type { Field, FrameTrack, Statement, Stop, TrackField } from '../../../core/material/statement.ts';
import type { MappedField } from '../../sidecars/mapping.ts';
import { folderOf, stemUnlessNamed } from '../../sidecars/stem.ts';
import { makeStatement } from '../../values/field.ts';
import type { TableRow } from '../split-rows.ts';
import { changeProblem, checkCells, checkCount, checkLabels } from './check-export.ts';
import type { ExportRows, ReadColumn } from './export-columns.ts';
import { differentCells, isTrackField, readColumns, statementsOf, TRACK_FIELDS } from './export-columns.ts';

interface ExportReading {
  readonly note: ClipNote;
  readonly problems: readonly ReadingProblem[];
}

/** What is read from the first row, since it runs on or may change without meaning. */
const FIRST_ROW_FIELDS: ReadonlySet<Field> = new Set(['tcIn', 'date', 'notes']);

/** One row for the clip: each mapped column is a statement. */
export function readClipRow(rows: ExportRows, row: TableRow, fields: readonly MappedField[]): ExportReading {
  const columns = readColumns({ ...rows, rows: [row] }, fields);
  return { note: noteOf(rows, `line ${row.line}`, columns.flatMap(statementsOf), []), problems: columns.flatMap((column) => checkCells(rows, column)) };
}

/**
 * One row a frame: what stays the same through the clip becomes statements, what may change a track; the first label is the
 * clip's start. Rows that do not run on frame by frame, and values that should not change but do, are problems.
 */
export function readFrameRows(rows: ExportRows, fields: readonly MappedField[]): ExportReading {
  const columns = readColumns(rows, fields);
  const runsOn = ({ mapped: { field } }: ReadColumn): boolean => isTrackField(field) || FIRST_ROW_FIELDS.has(field);
  const changed = columns.filter((column) => differentCells(column) > 1 && !runsOn(column));
  const stated = columns.filter((column) => differentCells(column) === 1 || !isTrackField(column.mapped.field)).flatMap(statementsOf);
  const statements = [...stated, ...lastLabel(columns), ...rowCount(rows, stated)];
  const track = trackOf(rows, columns);
  const problems = [
    ...columns.flatMap((column) => checkCells(rows, column)),
    ...changed.map((column) => changeProblem(rows, column)),
    ...checkLabels(rows, columns, stated),
    ...checkCount(rows, stated),
  ];
  return { note: noteOf(rows, '', statements, track === undefined ? [] : [track]), problems };
}

function noteOf({ file }: ExportRows, place: string, statements: readonly Statement[], tracks: readonly FrameTrack[]): ClipNote {
  return { kind: 'report', file, place, folder: folderOf(file), ...stemUnlessNamed(file, statements), statements, tracks };
}

function trackOf(rows: ExportRows, columns: readonly ReadColumn[]): FrameTrack | undefined {
  const values: Partial<Record<TrackField, readonly number[]>> = {};
  let stopKind: Stop['kind'] = 'unknown';
  for (const field of TRACK_FIELDS) {
    const column = columns.find((candidate) => candidate.mapped.field === field && differentCells(candidate) > 0);
    if (column === undefined) continue;
    values[field] = column.cells.map(({ reading }) => trackNumber(reading.statements[0]));
    const [first] = statementsOf(column);
    if (first?.field === 'stop') stopKind = first.value.kind;
  }
  if (Object.keys(values).length === 0 || rows.rows.length < 2) return undefined;
  return { source: { kind: 'report', file: rows.file, place: linesOf(rows) }, frames: rows.rows.length, values, stopKind };
}

function trackNumber(statement: Statement | undefined): number {
  if (statement === undefined) return Number.NaN;
  if (statement.field === 'stop') return statement.value.number;
  return isTrackField(statement.field) && typeof statement.value === 'number' ? statement.value : Number.NaN;
}

/** The label of the last row, as the clip's last frame. */
function lastLabel(columns: readonly ReadColumn[]): readonly Statement[] {
  const last = columns.find(({ mapped }) => mapped.field === 'tcIn')?.cells.at(-1)?.reading.statements[0];
  const single = columns.every(({ cells }) => cells.length < 2);
  return last?.field === 'tcIn' && !single && columns.every(({ mapped }) => mapped.field !== 'tcOut') ? [makeStatement('tcOut', last.value, last.raw, last.source)] : [];
}

/** Rows are frames; a single row is a cut export and counts nothing. */
function rowCount(table: ExportRows, stated: readonly Statement[]): readonly Statement[] {
  const { file, rows } = table;
  if (rows.length < 2 || stated.some(({ field }) => field === 'frames')) return [];
  return [makeStatement('frames', rows.length, `${rows.length} rows`, { kind: 'report', file, place: linesOf(table) })];
}

function linesOf({ rows }: ExportRows): string {
  return `lines ${rows[0]?.line ?? 0} to ${rows.at(-1)?.line ?? 0}`;
}
