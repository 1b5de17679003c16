/** Parameters of one statement: SQLite takes 32,766 and PostgreSQL 65,535, and a statement of this many is fast in both. */
const ROWS_AT_ONCE = 500;

/** Rows or keys in parts that one statement takes each. */
export function inParts<T>(entries: readonly T[]): readonly T[][] {
  return Array.from({ length: Math.ceil(entries.length / ROWS_AT_ONCE) }, (_, part) => entries.slice(part * ROWS_AT_ONCE, (part + 1) * ROWS_AT_ONCE));
}
