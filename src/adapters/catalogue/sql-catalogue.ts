import type { Catalogue, SeenPlace } from '../../ports.ts';
import { inParts } from './in-parts.ts';
import type { SqlDatabase } from './sql-database.ts';
import { marks, textOf } from './sql-database.ts';
import { tidyTables } from './tidy-tables.ts';

/** The catalogue in SQLite or PostgreSQL. `job` parts the places of one pipeline from those of another; what is kept by content serves all. */
export class SqlCatalogue implements Catalogue {
  readonly #database: SqlDatabase;
  readonly #job: string;
  /** Keys found or kept since the last tidying, by kind. */
  #used = new Map<string, Set<string>>();

  constructor(database: SqlDatabase, job: string) {
    this.#database = database;
    this.#job = job;
  }

  async places(): Promise<ReadonlyMap<string, SeenPlace>> {
    const rows = await this.#database.rows('select file, signature, content from gemel_places where job = ?', [this.#job]);
    return new Map(rows.map((row) => [textOf(row, 'file'), { file: textOf(row, 'file'), signature: textOf(row, 'signature'), content: row['content'] === null ? undefined : textOf(row, 'content') }]));
  }

  async notePlaces(seen: readonly SeenPlace[], gone: readonly string[]): Promise<void> {
    if (seen.length === 0 && gone.length === 0) return;
    await this.#database.whole(async (session) => {
      for (const files of inParts(gone)) await session.rows(`delete from gemel_places where job = ? and file in ${marks(1, files.length)}`, [this.#job, ...files]);
      for (const part of inParts(seen)) {
        await session.rows(
          `insert into gemel_places (job, file, signature, content) values ${marks(part.length, 4)}
          on conflict (job, file) do update set signature = excluded.signature, content = excluded.content`,
          part.flatMap(({ file, signature, content }) => [this.#job, file, signature, content ?? null]),
        );
      }
    });
  }

  async find(kind: string, keys: readonly string[]): Promise<ReadonlyMap<string, string>> {
    const found = new Map<string, string>();
    for (const part of inParts([...new Set(keys)])) {
      const rows = await this.#database.rows(`select key, text from gemel_kept where kind = ? and key in ${marks(1, part.length)}`, [kind, ...part]);
      for (const row of rows) found.set(textOf(row, 'key'), textOf(row, 'text'));
    }
    this.#noteUsed(kind, found.keys());
    return found;
  }

  async keep(kind: string, entries: ReadonlyMap<string, string>): Promise<void> {
    if (entries.size === 0) return;
    this.#noteUsed(kind, entries.keys());
    // In one order everywhere, so that two processes never wait for each other in a ring.
    const rows = [...entries].map(([key, text]) => ({ key, text: text.replaceAll('\0', '\uFFFD') })).toSorted((a, b) => (a.key < b.key ? -1 : 1));
    await this.#database.whole(async (session) => {
      for (const part of inParts(rows)) {
        await session.rows(
          `insert into gemel_kept (kind, key, text) values ${marks(part.length, 3)} on conflict (kind, key) do update set text = excluded.text`,
          part.flatMap(({ key, text }) => [kind, key, text]),
        );
      }
    });
  }

  async forget(kind: string, keys: readonly string[]): Promise<void> {
    for (const part of inParts(keys)) await this.#database.rows(`delete from gemel_kept where kind = ? and key in ${marks(1, part.length)}`, [kind, ...part]);
  }

  async keys(kind: string): Promise<readonly string[]> {
    const rows = await this.#database.rows('select key from gemel_kept where kind = ?', [kind]);
    return rows.map((row) => textOf(row, 'key')).toSorted((a, b) => (a < b ? -1 : Number(a > b)));
  }

  async tidy(day: number, keepDays: number): Promise<void> {
    const used = this.#used;
    this.#used = new Map();
    await tidyTables(this.#database, { job: this.#job, used, day, keepDays });
  }

  #noteUsed(kind: string, keys: Iterable<string>): void {
    const used = this.#used.get(kind) ?? new Set<string>();
    for (const key of keys) used.add(key);
    this.#used.set(kind, used);
  }

  async close(): Promise<void> {
    await this.#database.close();
  }
}
