import type { ReadingProblem } from '../../core/material/finding.ts';
import type { Column } from './columns.ts';
import { checkDoubledHeadings } from './columns.ts';
import type { HeadedTable } from './find-headings.ts';
import { quoted, tableProblem } from './table-problem.ts';

/** What is wrong with the table as a table, whatever it holds: quotes, limits, rows too long, doubled headings. */
export function checkTable(file: string, table: HeadedTable, columns: readonly Column[]): readonly ReadingProblem[] {
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

/** What is left unread in a report, list or notes: columns without a known heading, rows above the headings. */
export function notesOfUnread(file: string, table: HeadedTable, columns: readonly Column[], isKnown: (heading: string) => boolean): readonly ReadingProblem[] {
  const unknown = columns.filter(({ heading, indices }) => !isKnown(heading) && table.rows.some((row) => indices.some((index) => (row.cells[index] ?? '').trim() !== '')));
  const above = table.before.filter(({ cells }) => !/^sep=.?$/i.test(cells.join('').trim()));
  return [
    ...above.map(({ line, cells }) => tableProblem(file, `line ${line}`, quoted(cells.filter((cell) => cell.trim() !== '').join(', ')), 'headings in the first row', 'Rows above the headings are not read.', 'note')),
    ...(unknown.length === 0 ? [] : [tableProblem(file, `line ${table.headings.line}`, listed(unknown), 'headings that gemel knows', 'These columns are not read. If one matters, add its name under "headings" in the pipeline file.', 'note')]),
  ];
}

function listed(columns: readonly Column[]): string {
  const names = columns.slice(0, 20).map(({ heading }) => quoted(heading)).join(', ');
  return `${columns.length === 1 ? 'column' : 'columns'} ${names}${columns.length > 20 ? ` and ${columns.length - 20} more` : ''}`;
}
