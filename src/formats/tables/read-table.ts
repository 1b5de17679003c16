import type { ClipNote } from '../../core/material/day.ts';
import type { ReadingProblem } from '../../core/material/finding.ts';
import type { MoveMark, ShotRow } from '../../core/material/shot-list.ts';
import type { Field } from '../../core/material/statement.ts';
import type { SidecarMapping } from '../sidecars/mapping.ts';
import { checkTable, notesOfUnread } from './check-table.ts';
import { columnsOf } from './columns.ts';
import { decodeText } from './decode-text.ts';
import { findHeadings } from './find-headings.ts';
import { readBlocks } from './frame-data/blocks.ts';
import type { ExportRows } from './frame-data/export-columns.ts';
import { readClipRow, readFrameRows } from './frame-data/export-rows.ts';
import { findMapping, genericFrameFields } from './frame-data/known-layout.ts';
import { isF4, readF4 } from './frame-data/read-f4.ts';
import { readMoveMarks } from './move-marks.ts';
import { readReportRows } from './report-rows.ts';
import { readShotRows } from './shot-rows.ts';
import type { TableRow } from './split-rows.ts';
import type { Known, TableKind } from './table-kind.ts';
import { headingTest, isReadAs, kindOf } from './table-kind.ts';
import { quoted, tableProblem } from './table-problem.ts';

/** What a table says. Only the list of its kind is filled. */
export interface TableReading {
  readonly kind: TableKind;
  readonly notes: readonly ClipNote[];
  readonly shots: readonly ShotRow[];
  readonly marks: readonly MoveMark[];
  readonly problems: readonly ReadingProblem[];
}

/**
 * Reads a CSV or TSV of any encoding and delimiter: camera report, script log, shot list, move notes or a camera's own export,
 * which may also be text in blocks or a recorded tracking stream. `headings` are the pipeline's normalised headings, `mappings`
 * the exports it knows. Never throws.
 */
export function readTable(bytes: Uint8Array, file: string, headings: Readonly<Record<string, Field>>, mappings: readonly SidecarMapping[] = []): TableReading {
  if (isF4(bytes)) return frameData([readF4(bytes, file)]);
  const { text, assumed } = decodeText(bytes);
  if (text.trim() === '') return nothing(file, 'no text', 'a heading row and rows below it');
  if (text.includes('\0')) return nothing(file, 'bytes that are no text', 'comma, semicolon or tab separated text');
  if (isTrackingSamples(text)) return nothing(file, 'OpenTrackIO tracking samples', 'a table; tracking samples are not read here');
  const read = readBlockText(text, file, mappings) ?? readHeadedText(text, file, { headings, mappings });
  if (!assumed) return read;
  const encoding = tableProblem(file, '', 'text that is not UTF-8', 'read as Windows-1252 by assumption', 'Save the file as UTF-8 if names look wrong.', 'note', 'unreadable-file');
  return { ...read, problems: [encoding, ...read.problems] };
}

function readBlockText(text: string, file: string, mappings: readonly SidecarMapping[]): TableReading | undefined {
  const blocks = readBlocks(text);
  const mapping = blocks === undefined ? undefined : findMapping(blocks.columns, mappings, ['blocks']);
  return blocks === undefined || mapping === undefined ? undefined : frameData([readFrameRows({ file, ...blocks, word: 'key' }, mapping.fields)]);
}

function readHeadedText(text: string, file: string, known: Known): TableReading {
  const table = findHeadings(text, headingTest(known));
  if (table === undefined) return nothing(file, `no heading row in the first lines, which begin ${quoted(text.slice(0, 80))}`, 'a row with two headings that gemel knows');
  const columns = columnsOf(table.headings);
  const rows = table.rows.filter((row) => (!row.damaged || row.cells.length === table.headings.cells.length) && !repeatsHeadings(row, table.headings));
  const kept = new Set(rows);
  const unreadLines = table.rows.filter((row) => row.damaged && !kept.has(row)).map(({ line }) => line);
  const read = readRows({ file, columns, rows, word: 'column' }, known, unreadLines);
  const unread = notesOfUnread(file, table, columns, (heading) => isReadAs(read.kind, heading, known.headings));
  return { ...read, problems: [...checkTable(file, table, columns), ...unread, ...read.problems] };
}

/** Reports of several pages repeat their headings on each. */
function repeatsHeadings(row: TableRow, headings: TableRow): boolean {
  return row.cells.length === headings.cells.length && row.cells.every((cell, at) => cell.trim() === headings.cells[at]?.trim());
}

function readRows(table: ExportRows, { headings, mappings }: Known, unreadLines: readonly number[]): TableReading {
  const { file, columns, rows } = table;
  const mapping = findMapping(columns, mappings, ['frames', 'clip']);
  const frameFields = mapping?.form === 'frames' ? mapping.fields : mapping === undefined ? genericFrameFields(columns, rows, headings) : undefined;
  if (frameFields !== undefined) return frameData([readFrameRows(table, frameFields)]);
  if (mapping !== undefined) return frameData(rows.map((row) => readClipRow(table, row, mapping.fields)));
  const kind = kindOf(columns, headings);
  const none = { kind, notes: [], shots: [], marks: [], problems: [] };
  switch (kind) {
    case 'shot-list': return { ...none, ...readShotRows(file, columns, rows) };
    case 'move-notes': return { ...none, ...readMoveMarks(file, columns, rows) };
    case 'report': return { ...none, ...readReportRows(file, columns, rows, headings, unreadLines) };
    case 'unknown': return nothing(file, `headings that fit no report: ${columns.slice(0, 12).map(({ heading }) => quoted(heading)).join(', ')}`, 'a column that names the clip or the slate');
    default: return kind satisfies never;
  }
}

function frameData(readings: readonly { readonly note: ClipNote; readonly problems: readonly ReadingProblem[] }[]): TableReading {
  return { kind: 'frame-data', notes: readings.map(({ note }) => note), shots: [], marks: [], problems: readings.flatMap(({ problems }) => problems) };
}

/** Tracking samples as JSON, or as the packets they are sent in (OpenTrackIO 1.0). */
function isTrackingSamples(text: string): boolean {
  return text.startsWith('OTrk') || (/^\s*[[{]/.test(text) && text.includes('"OpenTrackIO"'));
}

function nothing(file: string, found: string, expected: string): TableReading {
  const problem = tableProblem(file, '', found, expected, 'Give the table a heading row, or keep it out of the media folder.', 'warn', 'unreadable-file');
  return { kind: 'unknown', notes: [], shots: [], marks: [], problems: [problem] };
}
