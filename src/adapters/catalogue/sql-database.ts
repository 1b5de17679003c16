/** What a column may hold. */
export type SqlValue = string | number | null;

/** One row, by the names of its columns. */
export type SqlRow = Readonly<Record<string, unknown>>;

/** Speaks to a database in SQL that SQLite and PostgreSQL both understand; each `?` stands for one of the values, in order. */
export interface SqlSession {
  rows(statement: string, values?: readonly SqlValue[]): Promise<readonly SqlRow[]>;
}

/** An open database. */
export interface SqlDatabase extends SqlSession {
  /** Everything `work` asks of its session happens, or nothing does. */
  whole<T>(work: (session: SqlSession) => Promise<T>): Promise<T>;
  close(): Promise<void>;
}

/** `(?, ?), (?, ?)`: so many rows of so many values. */
export function marks(rows: number, columns: number): string {
  const row = `(${Array.from({ length: columns }, () => '?').join(', ')})`;
  return Array.from({ length: rows }, () => row).join(', ');
}

/** The text of a column that is never anything else. */
export function textOf(row: SqlRow, column: string): string {
  return String(row[column]);
}
