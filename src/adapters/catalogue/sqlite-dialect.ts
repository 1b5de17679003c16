import { DatabaseSync } from 'node:sqlite';
import type { SQLInputValue } from 'node:sqlite';
import { SqliteDialect } from 'kysely';

/** Another process may be writing; it is done within milliseconds, or within seconds on a laptop that is busy. */
const WAIT_MS = 10_000;

/** Opens an SQLite file as several processes may use it: write-ahead log, and waiting for each other. @throws {Error} when it is no database. */
export function openSqlite(path: string): DatabaseSync {
  const database = new DatabaseSync(path, { timeout: WAIT_MS });
  try {
    database.exec('PRAGMA journal_mode = WAL; PRAGMA synchronous = NORMAL; PRAGMA foreign_keys = ON; PRAGMA trusted_schema = OFF;');
    return database;
  } catch (problem) {
    database.close();
    throw problem;
  }
}

/** The SQLite that comes with the runtime, in the shape Kysely asks for. `onProblem` hears of every statement that fails. */
export function nodeSqliteDialect(database: DatabaseSync, onProblem: (problem: unknown) => void = () => {}): SqliteDialect {
  const heard = <T>(work: () => T): T => {
    try {
      return work();
    } catch (problem) {
      onProblem(problem);
      throw problem;
    }
  };
  return new SqliteDialect({
    database: {
      close: () => database.close(),
      prepare: (sql) => {
        const statement = heard(() => database.prepare(sql));
        return {
          reader: statement.columns().length > 0,
          all: (parameters) => heard(() => statement.all(...sqlValues(parameters))),
          run: (parameters) => heard(() => statement.run(...sqlValues(parameters))),
          iterate: (parameters) => heard(() => statement.iterate(...sqlValues(parameters))),
        };
      },
    },
  });
}

function sqlValues(parameters: readonly unknown[]): SQLInputValue[] {
  return parameters.map((value) => {
    if (value === null || typeof value === 'string' || typeof value === 'number' || typeof value === 'bigint' || value instanceof Uint8Array) return value;
    throw new TypeError(`SQLite takes no ${typeof value}`);
  });
}
