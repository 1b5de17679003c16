import type { ReadingProblem } from '../../core/material/finding.ts';
import type { Column } from './columns.ts';
import { checkDoubledHeadings } from './columns.ts';
import type { HeadedTable } from './find-headings.ts';
import { quoted, tableProblem } from './table-problem.ts';

/** Places of one kind that are named one by one; beyond it they are counted. */
const MOST_NAMED = 50;

/** What is wrong with the table as a table, whatever it holds: quotes, limits, rows too long, doubled headings. */
export function checkTable(file: string, table: HeadedTable, columns: readonly Column[]): readonly ReadingProblem[] {
  return [...checkFaults(file, table), ...checkLongRows(file, table), ...checkDoubledHeadings(file, columns, table.rows)];
}

function checkFaults(file: string, { faults, rows, headings }: HeadedTable): readonly ReadingProblem[] {
  const used = new Set(rows.filter(({ damaged, cells }) => damaged && cells.length === headings.cells.length).map(({ line }) => line));
  const named = faults.slice(0, MOST_NAMED).map(({ line, found, expected }) => {
    const remedy = used.has(line) ? 'The row is read as it stands. Correct its quotation marks.' : 'The row is not used; those before and after it are. Correct it.';
    return tableProblem(file, `line ${line}`, found, expected, remedy);
  });
  const next = faults[MOST_NAMED];
  if (next === undefined) return named;
  const rest = tableProblem(file, `line ${next.line} and after`, `${faults.length - MOST_NAMED} more such rows`, next.expected, 'Check how the file was written.');
  return [...named, rest];
}

/** Cells beyond the last heading: a delimiter inside a cell has most likely moved the others. */
function checkLongRows(file: string, { rows, headings }: HeadedTable): readonly ReadingProblem[] {
  const width = headings.cells.length;
  const long = rows.filter((row) => row.cells.slice(width).some((cell) => cell.trim() !== ''));
  const remedy = 'The cells beyond are not read, and one before them may stand in the wrong column. Put quotation marks round a cell that holds the delimiter.';
  const named = long.slice(0, MOST_NAMED).map(({ line, cells }) => tableProblem(file, `line ${line}`, `${cells.length} cells`, `at most ${width}, one a heading`, remedy));
  const next = long[MOST_NAMED];
  if (next === undefined) return named;
  return [...named, tableProblem(file, `line ${next.line} and after`, `${long.length - MOST_NAMED} more such rows`, `at most ${width} cells, one a heading`, remedy)];
}

/** What is left unread in a report, list or notes: columns without a known heading, rows above the headings. */
export function notesOfUnread(file: string, table: HeadedTable, columns: readonly Column[], isKnown: (heading: string) => boolean): readonly ReadingProblem[] {
  const speaks = ({ indices }: Column): boolean => table.rows.some((row) => indices.some((index) => (row.cells[index] ?? '').trim() !== ''));
  const unknown = columns.filter((column) => !isKnown(column.heading) && speaks(column));
  const above = table.before.filter(({ cells }) => !/^sep=.?$/i.test(cells.join('').trim()));
  const notes = above.map(({ line, cells }) => {
    const words = cells.filter((cell) => cell.trim() !== '').join(', ');
    return tableProblem(file, `line ${line}`, `${quoted(words)} above the headings`, 'which is not read', 'Nothing, if nothing there matters: only rows below the headings are read.', 'note');
  });
  if (unknown.length === 0) return notes;
  const remedy = 'These columns are not read. If one matters, add its name under "headings" in the pipeline file.';
  return [...notes, tableProblem(file, `line ${table.headings.line}`, listed(unknown), unknown.length === 1 ? 'a heading that stands for no value known here: not read' : 'headings that stand for no value known here: not read', remedy, 'note')];
}

function listed(columns: readonly Column[]): string {
  const names = columns.slice(0, 20).map(({ heading }) => quoted(heading)).join(', ');
  return `${columns.length === 1 ? 'column' : 'columns'} ${names}${columns.length > 20 ? ` and ${columns.length - 20} more` : ''}`;
}
