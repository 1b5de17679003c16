import type { ClipNote } from '../../../core/material/day.ts';
import type { ReadingProblem } from '../../../core/material/finding.ts';
import type { Field, FrameTrack, Statement, Stop, TrackField } from '../../../core/material/statement.ts';
import { nominalBase } from '../../../core/timecode/rate.ts';
import type { MappedField } from '../../sidecars/mapping.ts';
import { readMapped } from '../../sidecars/read-mapped.ts';
import { folderOf, stemUnlessNamed } from '../../sidecars/stem.ts';
import { normaliseHeading } from '../../../core/material/heading.ts';
import type { CellReading } from '../../values/field.ts';
import { makeStatement } from '../../values/field.ts';
import type { Column } from '../columns.ts';
import { cellOf } from '../columns.ts';
import type { TableRow } from '../split-rows.ts';
import { quoted, tableProblem } from '../table-problem.ts';
import type { FrameLabel } from './continuity.ts';
import { findJumps } from './continuity.ts';

/** Rows of a camera export, ready to be read by a mapping. `word`: whether they are rows with columns or blocks with keys. */
export interface ExportRows {
  readonly file: string;
  readonly columns: readonly Column[];
  readonly rows: readonly TableRow[];
  readonly word: 'column' | 'key';
}

interface ExportReading {
  readonly note: ClipNote;
  readonly problems: readonly ReadingProblem[];
}

/** One mapped column read down all rows. */
interface ReadColumn {
  readonly mapped: MappedField;
  readonly heading: string;
  readonly cells: readonly ReadCellAt[];
}

interface ReadCellAt {
  readonly line: number;
  readonly raw: string;
  readonly reading: CellReading;
}

/** What changes along a take. */
const TRACK_FIELDS = ['focalLength', 'focusDistance', 'stop', 'tilt', 'rollAngle'] as const satisfies readonly TrackField[];
/** What is read from the first row, since it runs on or may change without meaning. */
const FIRST_ROW_FIELDS: ReadonlySet<Field> = new Set(['tcIn', 'date', 'notes']);

/** One row for the clip: each mapped column is a statement. */
export function readClipRow(rows: ExportRows, row: TableRow, fields: readonly MappedField[]): ExportReading {
  const columns = readColumns({ ...rows, rows: [row] }, fields);
  return { note: noteOf(rows, `line ${row.line}`, columns.flatMap(statementsOf), []), problems: columns.flatMap((column) => unreadableCells(rows, column)) };
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
    ...columns.flatMap((column) => unreadableCells(rows, column)),
    ...changed.map((column) => changeProblem(rows, column)),
    ...jumpProblems(rows, columns, stated),
    ...countProblems(rows, stated),
  ];
  return { note: noteOf(rows, '', statements, track === undefined ? [] : [track]), problems };
}

function noteOf({ file }: ExportRows, place: string, statements: readonly Statement[], tracks: readonly FrameTrack[]): ClipNote {
  return { kind: 'report', file, place, folder: folderOf(file), ...stemUnlessNamed(file, statements), statements, tracks };
}

/** The mapped columns. For what changes along a take the first that says anything counts: the others say the same, less finely. */
function readColumns(rows: ExportRows, fields: readonly MappedField[]): readonly ReadColumn[] {
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

function placeOf({ word }: ExportRows, line: number, heading: string): string {
  return word === 'key' ? `block at line ${line}, key "${heading}"` : `line ${line}, column "${heading}"`;
}

/** The first thing a column says. */
function statementsOf({ cells }: ReadColumn): readonly Statement[] {
  return cells.find(({ reading }) => reading.statements.length > 0)?.reading.statements ?? [];
}

/** How many different things a column says: 0 when it says nothing, 1 when it stays the same. */
function differentCells({ cells }: ReadColumn): number {
  return new Set(cells.filter(({ reading }) => reading.statements.length > 0).map(({ raw }) => raw.trim())).size;
}

function isTrackField(field: Field): field is TrackField {
  return (TRACK_FIELDS as readonly Field[]).includes(field);
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
  return { source: { kind: 'report', file: rows.file, place: `lines ${rows.rows[0]?.line ?? 0} to ${rows.rows.at(-1)?.line ?? 0}` }, frames: rows.rows.length, values, stopKind };
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
function rowCount({ file, rows }: ExportRows, stated: readonly Statement[]): readonly Statement[] {
  if (rows.length < 2 || stated.some(({ field }) => field === 'frames')) return [];
  const place = `lines ${rows[0]?.line ?? 0} to ${rows.at(-1)?.line ?? 0}`;
  return [makeStatement('frames', rows.length, `${rows.length} rows`, { kind: 'report', file, place })];
}

function unreadableCells(rows: ExportRows, { heading, cells }: ReadColumn): readonly ReadingProblem[] {
  const bad = cells.filter(({ reading }) => reading.expected !== undefined);
  const [first] = bad;
  if (first?.reading.expected === undefined) return [];
  const more = bad.length === 1 ? '' : ` and ${bad.length - 1} more ${bad.length === 2 ? 'row' : 'rows'}`;
  return [tableProblem(rows.file, placeOf(rows, first.line, heading), `${quoted(first.raw)}${more}`, first.reading.expected, 'The rest of the export counts. Check the value on the camera or the lens.')];
}

function changeProblem(rows: ExportRows, { heading, cells }: ReadColumn): ReadingProblem {
  const [first, ...rest] = cells.filter(({ reading }) => reading.statements.length > 0);
  const other = rest.find(({ raw }) => raw.trim() !== first?.raw.trim());
  return tableProblem(
    rows.file, placeOf(rows, other?.line ?? 0, heading), `${quoted(other?.raw ?? '')} after ${quoted(first?.raw ?? '')} in line ${first?.line ?? 0}`,
    'one value through the clip', 'The first is used. Check whether the camera was changed while it ran.', 'warn', 'sources-disagree',
  );
}

function jumpProblems(rows: ExportRows, columns: readonly ReadColumn[], statements: readonly Statement[]): readonly ReadingProblem[] {
  const column = columns.find(({ mapped }) => mapped.field === 'tcIn');
  if (column === undefined) return [];
  const labels = column.cells.flatMap(({ line, reading: { statements: [label] } }): FrameLabel[] => (label?.field === 'tcIn' ? [{ line, label: label.value }] : []));
  const jumps = findJumps(labels, baseOf(statements));
  const [first] = jumps;
  if (first === undefined) return [];
  const more = jumps.length === 1 ? '' : ` (the first of ${jumps.length} such places)`;
  return [tableProblem(
    rows.file, placeOf(rows, first.to.line, column.heading), `${first.to.label} after ${first.from.label}${more}`, 'the next frame',
    'Frames are missing or the timecode jumped. Do not line passes up by timecode within this clip.', 'warn', 'frame-gap',
  )];
}

function baseOf(statements: readonly Statement[]): number | undefined {
  const rate = statements.find(({ field }) => field === 'timecodeRate') ?? statements.find(({ field }) => field === 'fps');
  return rate?.field === 'timecodeRate' || rate?.field === 'fps' ? nominalBase(rate.value) : undefined;
}

function countProblems({ file, rows }: ExportRows, statements: readonly Statement[]): readonly ReadingProblem[] {
  const stated = statements.find(({ field }) => field === 'frames');
  if (stated?.field !== 'frames' || stated.value === rows.length) return [];
  return [tableProblem(file, stated.source.place, `${rows.length} rows`, `${stated.value} frames as stated`, 'The export is cut short or the clip is. Export it again.', 'warn', 'length-disagrees')];
}
