export type Delimiter = '\t' | ';' | ',';

/** One row of a table. `line` is where it starts, from 1. `damaged`: its quotes do not balance, it was read up to the line's end as it stands. */
export interface TableRow {
  readonly line: number;
  readonly cells: readonly string[];
  readonly damaged: boolean;
}

/** Something wrong with the table itself, at a line. */
export interface TableFault {
  readonly line: number;
  readonly found: string;
  readonly expected: string;
}

export const LIMITS = { rows: 1_000_000, columns: 100_000, cellCharacters: 65_536 } as const;

/**
 * The rows of a delimited text (RFC 4180, with any line end, and the other delimiters crews use). A quotation mark counts only
 * at the start of a cell, so `12'6"` needs no quotes. Where quotes do not balance, that line alone is read as it stands and
 * reading goes on with the next. Empty rows are left out; a row beyond the limits is left out and named. `width` is how many cells a row should
 * have, where that is known: it tells a ditto mark (a lone `"`) from the beginning of a quoted cell.
 */
export function splitRows(source: string, delimiter: Delimiter, mostRows: number = LIMITS.rows, width?: number): { readonly rows: readonly TableRow[]; readonly faults: readonly TableFault[] } {
  const text = source.replace(/\r\n?/g, '\n');
  const rows: TableRow[] = [];
  const faults: TableFault[] = [];
  let line = 1;
  for (let at = 0; at < text.length; ) {
    if (rows.length >= mostRows) {
      faults.push({ line, found: 'more rows', expected: `at most ${mostRows} rows` });
      break;
    }
    const lineEnd = endOfLine(text, at);
    const plain = text.slice(at, lineEnd);
    const row = !plain.includes('"') || hasDittos(text, at, delimiter, width) ? { cells: splitCells(plain, delimiter), end: lineEnd } : readQuotedRow(text, at, delimiter);
    const cells = row?.cells ?? splitCells(plain, delimiter).map(withoutOuterQuotes);
    const fault = row === undefined ? UNBALANCED : faultOfSize(cells);
    if (fault !== undefined) faults.push({ line, ...fault });
    if (faultOfSize(cells) === undefined && cells.some((cell) => cell.trim() !== '')) rows.push({ line, cells, damaged: row === undefined });
    const end = row?.end ?? lineEnd;
    line += 1 + newlinesIn(text, at, end);
    at = end + 1;
  }
  return { rows, faults };
}

/** Whether the line at a place fits the width only when its lone quotation marks are read as they stand, as ditto marks. */
function hasDittos(text: string, at: number, delimiter: Delimiter, width: number | undefined): boolean {
  if (width === undefined) return false;
  const lineEnd = endOfLine(text, at);
  const plain = splitCells(text.slice(at, lineEnd), delimiter);
  if (plain.length !== width || !plain.some((cell) => cell.trim() === '"')) return false;
  const quotedRow = readQuotedRow(text, at, delimiter);
  if (quotedRow === undefined || quotedRow.cells.length !== width) return true;
  // A cell that begins with a line end, and the next line a whole row: the mark in the last column was one of its own.
  return quotedRow.end > lineEnd && splitCells(text.slice(lineEnd + 1, endOfLine(text, lineEnd + 1)), delimiter).length === width;
}

const UNBALANCED = { found: 'a quotation mark without its partner', expected: 'quotation marks in pairs, doubled inside a quoted cell' };

function faultOfSize(cells: readonly string[]): Omit<TableFault, 'line'> | undefined {
  if (cells.length > LIMITS.columns) return { found: 'more columns', expected: `at most ${LIMITS.columns} columns` };
  const longest = cells.find((cell) => cell.length > LIMITS.cellCharacters);
  return longest === undefined ? undefined : { found: `a cell of ${longest.length} characters`, expected: `at most ${LIMITS.cellCharacters} characters in a cell` };
}

function splitCells(line: string, delimiter: Delimiter): string[] {
  return line.split(delimiter, LIMITS.columns + 1);
}

function endOfLine(text: string, from: number): number {
  const at = text.indexOf('\n', from);
  return at === -1 ? text.length : at;
}

function newlinesIn(text: string, start: number, end: number): number {
  let count = 0;
  for (let at = text.indexOf('\n', start); at !== -1 && at < end; at = text.indexOf('\n', at + 1)) count += 1;
  return count;
}

/** Undefined when a quoted cell is not closed, or goes on after its closing mark. `end` is where the row's line end stands. */
function readQuotedRow(text: string, start: number, delimiter: Delimiter): { readonly cells: readonly string[]; readonly end: number } | undefined {
  const cells: string[] = [];
  for (let at = start; ; ) {
    const cell = readQuotedCell(text, at, delimiter) ?? readPlainCell(text, at, delimiter);
    if (cell === 'unbalanced') return undefined;
    cells.push(cell.value);
    if (text[cell.end] !== delimiter || cells.length > LIMITS.columns) return { cells, end: cells.length > LIMITS.columns ? endOfLine(text, cell.end) : cell.end };
    at = cell.end + 1;
  }
}

interface ReadCell {
  readonly value: string;
  readonly end: number;
}

function readPlainCell(text: string, start: number, delimiter: Delimiter): ReadCell {
  let end = start;
  while (end < text.length && text[end] !== delimiter && text[end] !== '\n') end += 1;
  return { value: text.slice(start, end), end };
}

/** Undefined when the cell does not begin with a quotation mark. */
function readQuotedCell(text: string, start: number, delimiter: Delimiter): ReadCell | 'unbalanced' | undefined {
  let open = start;
  while (text[open] === ' ') open += 1;
  if (text[open] !== '"') return undefined;
  let close = text.indexOf('"', open + 1);
  while (close !== -1 && text[close + 1] === '"') close = text.indexOf('"', close + 2);
  if (close === -1 || close - open > LIMITS.cellCharacters) return 'unbalanced';
  let end = close + 1;
  while (text[end] === ' ') end += 1;
  if (end < text.length && text[end] !== delimiter && text[end] !== '\n') return 'unbalanced';
  return { value: text.slice(open + 1, close).replaceAll('""', '"'), end };
}

function withoutOuterQuotes(cell: string): string {
  const text = cell.trim();
  if (!text.startsWith('"')) return cell;
  return text.length > 1 && text.endsWith('"') ? text.slice(1, -1) : text.slice(1);
}
