import { DatabaseSync } from 'node:sqlite';
import type { SqlDatabase, SqlRow, SqlSession, SqlValue } from './sql-database.ts';

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

/** The SQLite that comes with the runtime. It has one connection, so whoever asks waits for whoever asked before. */
export class SqliteDatabase implements SqlDatabase {
  readonly #database: DatabaseSync;
  readonly #onProblem: (problem: unknown) => void;
  #before: Promise<unknown> = Promise.resolve();

  /** `onProblem` hears of every statement that fails. */
  constructor(database: DatabaseSync, onProblem: (problem: unknown) => void = () => {}) {
    this.#database = database;
    this.#onProblem = onProblem;
  }

  async rows(statement: string, values: readonly SqlValue[] = []): Promise<readonly SqlRow[]> {
    return this.#inTurn(async () => this.#ask(statement, values));
  }

  async whole<T>(work: (session: SqlSession) => Promise<T>): Promise<T> {
    return this.#inTurn(async () => {
      // Nothing is locked yet: a session that writes first then waits its turn among processes.
      this.#ask('begin');
      try {
        const result = await work({ rows: async (statement, values) => this.#ask(statement, values) });
        this.#ask('commit');
        return result;
      } catch (problem) {
        if (this.#database.isTransaction) this.#database.exec('rollback');
        throw problem;
      }
    });
  }

  async close(): Promise<void> {
    await this.#inTurn(async () => {
      if (this.#database.isOpen) this.#database.close();
    });
  }

  #ask(statement: string, values: readonly SqlValue[] = []): readonly SqlRow[] {
    try {
      return this.#database.prepare(statement).all(...values);
    } catch (problem) {
      this.#onProblem(problem);
      throw problem;
    }
  }

  async #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const mine = this.#before.then(work);
    this.#before = mine.catch(() => {});
    return mine;
  }
}
