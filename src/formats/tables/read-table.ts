import type { ClipNote } from '../../core/material/day.ts';
import type { ReadingProblem } from '../../core/material/finding.ts';
import { normaliseHeading } from '../../core/material/heading.ts';
import type { MoveMark, ShotRow } from '../../core/material/shot-list.ts';
import type { Field } from '../../core/material/statement.ts';
import type { SidecarMapping } from '../sidecars/mapping.ts';
import { readHeading } from '../values/heading-unit.ts';
import type { Column } from './columns.ts';
import { checkDoubledHeadings, columnsOf } from './columns.ts';
import { decodeText } from './decode-text.ts';
import type { HeadedTable } from './find-headings.ts';
import { findHeadings } from './find-headings.ts';
import { moveHeading, readMoveMarks } from './move-marks.ts';
import { readReportRows } from './report-rows.ts';
import { readShotRows, SHOT_HEADINGS } from './shot-rows.ts';
import type { TableRow } from './split-rows.ts';
import { quoted, tableProblem } from './table-problem.ts';

/** What a table turned out to be, told by its headings. `unknown`: nothing in it was read, and a problem says why. */
export type TableKind = 'report' | 'shot-list' | 'move-notes' | 'frame-data' | 'unknown';

export interface TableReading {
  readonly kind: TableKind;
  readonly notes: readonly ClipNote[];
  readonly shots: readonly ShotRow[];
  readonly marks: readonly MoveMark[];
  readonly problems: readonly ReadingProblem[];
}

/**
 * Reads a CSV or TSV of any encoding and delimiter: camera report, script log, shot list, move notes or per-frame lens data.
 * `headings` are the normalised headings of the pipeline, `mappings` the camera exports it knows. Never throws.
 */
export function readTable(bytes: Uint8Array, file: string, headings: Readonly<Record<string, Field>>, mappings: readonly SidecarMapping[] = []): TableReading {
  const { text, assumed } = decodeText(bytes);
  if (text.trim() === '') return nothing(file, 'no text', 'a heading row and rows below it');
  if (text.includes('\0')) return nothing(file, 'bytes that are no text', 'comma, semicolon or tab separated text');
  const table = findHeadings(text, (cell) => isHeading(cell, headings));
  if (table === undefined) return nothing(file, `no heading row in the first lines, which begin ${quoted(text.slice(0, 80))}`, 'a row with two headings that gemel knows');
  const columns = columnsOf(table.headings);
  const rows = table.rows.filter((row) => !row.damaged || row.cells.length === table.headings.cells.length);
  const read = readRows(file, columns, rows, headings);
  const encoding = assumed ? [tableProblem(file, '', 'text that is not UTF-8', 'read as Windows-1252 by assumption', 'Save the file as UTF-8 if names look wrong.', 'note', 'unreadable-file')] : [];
  return { ...read, problems: [...encoding, ...problemsOfTable(file, table, columns), ...read.problems] };
}

function readRows(file: string, columns: readonly Column[], rows: readonly TableRow[], headings: Readonly<Record<string, Field>>): TableReading {
  const kind = kindOf(columns, headings);
  const none = { kind, notes: [], shots: [], marks: [], problems: [] };
  switch (kind) {
    case 'shot-list': return { ...none, ...readShotRows(file, columns, rows) };
    case 'move-notes': return { ...none, ...readMoveMarks(file, columns, rows) };
    case 'report': return { ...none, ...readReportRows(file, columns, rows, headings) };
    case 'frame-data':
    case 'unknown': return nothing(file, `headings that fit no report: ${columns.map(({ heading }) => quoted(heading)).slice(0, 12).join(', ')}`, 'a column that names the clip or the slate');
    default: return kind satisfies never;
  }
}

function isHeading(cell: string, headings: Readonly<Record<string, Field>>): boolean {
  if (cell.length > 60) return false;
  return readHeading(cell, headings).field !== undefined || Object.hasOwn(SHOT_HEADINGS, normaliseHeading(cell)) || moveHeading(cell) !== undefined;
}

/** Fields of which at least one must be there to tell which clip a row speaks of. */
const IDENTIFYING: ReadonlySet<Field> = new Set(['file', 'clip', 'slate', 'scene', 'setup', 'take', 'roll', 'reel', 'tcIn']);

function kindOf(columns: readonly Column[], headings: Readonly<Record<string, Field>>): TableKind {
  const has = (name: string): boolean => columns.some(({ key }) => SHOT_HEADINGS[key] === name);
  const marks = new Set(columns.map(({ heading }) => moveHeading(heading)?.name));
  if (marks.has('mark') && ['tc', 'time', 'x', 'y', 'z', 'pan', 'tilt'].some((name) => marks.has(name))) return 'move-notes';
  if (has('shot') && ['cutIn', 'cutOut', 'vendor', 'description', 'head', 'tail'].some(has)) return 'shot-list';
  return columns.some(({ heading }) => IDENTIFYING.has(readHeading(heading, headings).field ?? 'date')) ? 'report' : 'unknown';
}

function problemsOfTable(file: string, table: HeadedTable, columns: readonly Column[]): readonly ReadingProblem[] {
  const faults = table.faults.map(({ line, found, expected }) => tableProblem(file, `line ${line}`, found, expected, remedyOfFault(line, table)));
  const width = table.headings.cells.length;
  const long = table.rows
    .filter((row) => row.cells.slice(width).some((cell) => cell.trim() !== ''))
    .map((row) => tableProblem(file, `line ${row.line}`, `${row.cells.length} cells`, `at most ${width}, one a heading`, 'The cells beyond are not read, and one before them may stand in the wrong column. Put quotation marks round a cell that holds the delimiter.'));
  return [...faults, ...long, ...checkDoubledHeadings(file, columns, table.rows)];
}

function remedyOfFault(line: number, table: HeadedTable): string {
  const row = table.rows.find((candidate) => candidate.line === line);
  return row !== undefined && row.cells.length === table.headings.cells.length
    ? 'The row is read as it stands. Correct its quotation marks.'
    : 'The row is not used; those before and after it are. Correct it.';
}

function nothing(file: string, found: string, expected: string): TableReading {
  return { kind: 'unknown', notes: [], shots: [], marks: [], problems: [tableProblem(file, '', found, expected, 'Give the table a heading row, or keep it out of the media folder.', 'warn', 'unreadable-file')] };
}
