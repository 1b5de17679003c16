import { cameraLetter, clipNumberName } from '../../core/material/clip-names.ts';
import type { Field } from '../../core/material/statement.ts';
import { plainWord } from '../values/plain.ts';
import type { Column } from './columns.ts';
import { cellOf } from './columns.ts';
import type { TableRow } from './split-rows.ts';

/** A column of a report whose field is known. */
export interface KnownColumn {
  readonly column: Column;
  readonly field: Field;
}

/** A cell as it counts: what is written in it, or in the cell above that it stands for. */
export interface CountedCell {
  readonly raw: string;
  /** The line whose cell it repeats. */
  readonly above?: number;
  /** `carried`: nothing is written and the value is assumed. `lost`: a ditto mark with nothing above it to repeat. */
  readonly how: 'written' | 'ditto' | 'carried' | 'lost';
}

/** How people write "the same as above": common practice, no source. */
const DITTO = new Set(['"', '""', '〃', 'do', 'do.', 'ditto', '-"-', '--"--', '—"—', '- " -', '— " —', '"-"', '"—"', ',,', '„', '〟', 'as above', 'same as above']);

/** Remarks are free text; of the others each row has its own. */
const NEVER_REPEATED: ReadonlySet<Field> = new Set<Field>(['notes', 'file', 'clip', 'tcIn', 'tcOut', 'frames']);

/** A row with its cells as they count, one a column. `block`: rows without an empty line between them have the same. */
export interface CountedRow {
  readonly row: TableRow;
  readonly block: number;
  readonly cells: readonly CountedCell[];
}

/**
 * The rows of a report with what stands for the cell above filled in: ditto marks in every column of values, and a blank roll below a written
 * one as long as nothing speaks against it. `unread` are lines left out for damage, across which nothing is repeated.
 */
export function countCells(columns: readonly KnownColumn[], rows: readonly TableRow[], unread: readonly number[] = []): readonly CountedRow[] {
  const counted: CountedRow[] = [];
  const damaged = unread.toSorted((a, b) => a - b);
  let passed = 0;
  for (const row of rows) {
    const before = counted.at(-1);
    const passedBefore = passed;
    while ((damaged[passed] ?? Infinity) < row.line) passed += 1;
    const above = passed === passedBefore ? before : undefined;
    const written = columns.map((column, at) => countCell(cellOf(row, column.column), column, above?.cells[at], above?.row.line));
    const isNext = before !== undefined && isNextLine(before.row, row);
    const cells = above !== undefined && isNext ? withRoll(columns, written, above) : written;
    counted.push({ row, block: (before?.block ?? 0) + (isNext ? 0 : 1), cells });
  }
  return counted;
}

function countCell(raw: string, { field }: KnownColumn, above: CountedCell | undefined, line: number | undefined): CountedCell {
  if (field === 'notes' || !isDitto(raw)) return { raw, how: 'written' };
  if (above === undefined || line === undefined || above.raw.trim() === '' || above.how === 'lost' || NEVER_REPEATED.has(field)) return { raw, how: 'lost' };
  return { raw: above.raw, above: above.above ?? line, how: 'ditto' };
}

function isDitto(raw: string): boolean {
  return raw.length <= 20 && DITTO.has(plainWord(raw));
}

/**
 * Crews write the roll once, at the top of its block (common practice, no source). It holds for the rows below while camera stays and clip
 * numbers rise: one that starts again is on another roll.
 */
function withRoll(columns: readonly KnownColumn[], cells: readonly CountedCell[], above: CountedRow): readonly CountedCell[] {
  const at = columns.findIndex(({ field }) => field === 'roll');
  const over = above.cells[at];
  if (over === undefined || over.raw.trim() === '' || over.how === 'lost' || cells[at]?.raw.trim() !== '') return cells;
  const textOf = (from: readonly CountedCell[], field: Field): string => from[columns.findIndex((known) => known.field === field)]?.raw.trim() ?? '';
  const camera = textOf(cells, 'camera');
  if (camera !== '' && cameraLetter(camera) !== cameraLetter(textOf(above.cells, 'camera'))) return cells;
  const [own, last] = [cells, above.cells].map((from) => numberOf(textOf(from, 'clip')) ?? numberOf(textOf(from, 'file')));
  if (own === undefined || last === undefined || own <= last) return cells;
  return cells.with(at, { raw: over.raw, above: over.above ?? above.row.line, how: 'carried' });
}

/** The number of a bare clip number; a camera's whole name needs no roll. */
function numberOf(text: string): number | undefined {
  if (!/^(?:C[\s_-]*)?\d+$/iu.test(text)) return undefined;
  return Number(clipNumberName(text).replace(/\D/gu, ''));
}

/** Whether no empty line parts two rows; a cell may hold line ends of its own. */
function isNextLine(above: TableRow, row: TableRow): boolean {
  const within = above.cells.reduce((sum, cell) => sum + (cell.match(/\n/gu)?.length ?? 0), 0);
  return row.line - above.line - within === 1;
}
