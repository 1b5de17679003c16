import { normaliseHeading } from '../../core/material/heading.ts';
import type { ReadingProblem } from '../../core/material/finding.ts';
import { isUnknown } from '../values/unknown.ts';
import type { TableRow } from './split-rows.ts';
import { quoted, tableProblem } from './table-problem.ts';

/** One column; a heading that stands twice is one column with two places. `key` is the heading by the heading rule. */
export interface Column {
  readonly heading: string;
  readonly key: string;
  readonly indices: readonly number[];
}

/** The columns of a heading row, in order of their first place. Cells without a heading are no column. */
export function columnsOf(headingRow: TableRow): readonly Column[] {
  const byKey = new Map<string, { heading: string; key: string; indices: number[] }>();
  for (const [index, cell] of headingRow.cells.entries()) {
    const key = normaliseHeading(cell);
    if (key === '') continue;
    const known = byKey.get(key);
    if (known === undefined) byKey.set(key, { heading: cell.trim(), key, indices: [index] });
    else known.indices.push(index);
  }
  return [...byKey.values()];
}

/** The cell of a column in a row: of a doubled heading, the first that says something. "" when the row is too short. */
export function cellOf(row: TableRow, column: Column): string {
  const spoken = column.indices.find((index) => !isUnknown(row.cells[index] ?? ''));
  return row.cells[spoken ?? column.indices[0] ?? -1] ?? '';
}

/** Doubled headings whose cells disagree: one problem a heading, at the first row where they do. */
export function checkDoubledHeadings(file: string, columns: readonly Column[], rows: readonly TableRow[]): readonly ReadingProblem[] {
  return columns.filter((column) => column.indices.length > 1).flatMap((column) => {
    const row = rows.find((candidate) => spokenCells(candidate, column).length > 1);
    if (row === undefined) return [];
    const said = spokenCells(row, column).map(quoted).join(' and ');
    const place = `line ${row.line}, column "${column.heading}"`;
    return [tableProblem(file, place, `the heading twice, with ${said}`, 'one column of this name, or two that agree', 'The first is used. Name the columns apart, or remove one.')];
  });
}

function spokenCells(row: TableRow, column: Column): readonly string[] {
  return [...new Set(column.indices.map((index) => (row.cells[index] ?? '').trim()).filter((cell) => !isUnknown(cell)))];
}
