import { normaliseHeading } from '../../core/material/heading.ts';
import type { Delimiter, TableFault, TableRow } from './split-rows.ts';
import { splitRows } from './split-rows.ts';

/** A table with its heading row found. `before` are rows above it (titles, "sep=;"). */
export interface HeadedTable {
  readonly delimiter: Delimiter;
  readonly before: readonly TableRow[];
  readonly headings: TableRow;
  readonly rows: readonly TableRow[];
  readonly faults: readonly TableFault[];
}

/** Ties go to the first: a tab or a semicolon in a heading row is seldom part of a heading. */
const DELIMITERS: readonly Delimiter[] = ['\t', ';', ','];

/** How far the heading row may lie from the top. */
const LOOKED_ROWS = 20;
const LOOKED_CHARACTERS = 200_000;

/**
 * Finds the delimiter and the heading row together: the row, among the first 20, in which one delimiter shows the most headings
 * that `isHeading` knows. Undefined when no row shows two.
 */
export function findHeadings(text: string, isHeading: (cell: string) => boolean): HeadedTable | undefined {
  let best: { readonly delimiter: Delimiter; readonly line: number; readonly width: number } | undefined;
  let most = 1;
  for (const delimiter of DELIMITERS) {
    for (const row of splitRows(text.slice(0, LOOKED_CHARACTERS), delimiter, LOOKED_ROWS).rows) {
      const known = new Set(row.cells.filter(isHeading).map(normaliseHeading)).size;
      if (known <= most) continue;
      best = { delimiter, line: row.line, width: row.cells.length };
      most = known;
    }
  }
  if (best === undefined) return undefined;
  const { delimiter, line, width } = best;
  const { rows, faults } = splitRows(text, delimiter, undefined, width);
  const at = rows.findIndex((row) => row.line === line);
  const headings = rows[at];
  return headings === undefined ? undefined : { delimiter, before: rows.slice(0, at), headings, rows: rows.slice(at + 1), faults };
}
