import type { Kysely } from 'kysely';
import type { Catalogue, SeenPlace } from '../../ports.ts';
import { inParts } from './in-parts.ts';
import type { CatalogueTables } from './migrations.ts';
import { tidyTables } from './tidy-tables.ts';

/** The catalogue in any database Kysely speaks to. `job` parts the places of one pipeline from those of another; what is kept by content serves all. */
export class KyselyCatalogue implements Catalogue {
  readonly #database: Kysely<CatalogueTables>;
  readonly #job: string;
  readonly #closing: (() => Promise<void>) | undefined;
  /** Keys found or kept since the last tidying, by kind. */
  #used = new Map<string, Set<string>>();

  constructor(database: Kysely<CatalogueTables>, job: string, closing?: () => Promise<void>) {
    this.#database = database;
    this.#job = job;
    this.#closing = closing;
  }

  async places(): Promise<ReadonlyMap<string, SeenPlace>> {
    const rows = await this.#database.selectFrom('gemel_places').select(['file', 'signature', 'content']).where('job', '=', this.#job).execute();
    return new Map(rows.map(({ file, signature, content }) => [file, { file, signature, content: content ?? undefined }]));
  }

  async notePlaces(seen: readonly SeenPlace[], gone: readonly string[]): Promise<void> {
    if (seen.length === 0 && gone.length === 0) return;
    await this.#database.transaction().execute(async (transaction) => {
      for (const files of inParts(gone)) await transaction.deleteFrom('gemel_places').where('job', '=', this.#job).where('file', 'in', files).execute();
      for (const part of inParts(seen)) {
        const rows = part.map(({ file, signature, content }) => ({ job: this.#job, file, signature, content: content ?? null }));
        await transaction
          .insertInto('gemel_places')
          .values(rows)
          .onConflict((conflict) => conflict.columns(['job', 'file']).doUpdateSet((row) => ({ signature: row.ref('excluded.signature'), content: row.ref('excluded.content') })))
          .execute();
      }
    });
  }

  async find(kind: string, keys: readonly string[]): Promise<ReadonlyMap<string, string>> {
    const found = new Map<string, string>();
    for (const part of inParts([...new Set(keys)])) {
      const rows = await this.#database.selectFrom('gemel_kept').select(['key', 'text']).where('kind', '=', kind).where('key', 'in', part).execute();
      for (const { key, text } of rows) found.set(key, text);
    }
    this.#noteUsed(kind, found.keys());
    return found;
  }

  async keep(kind: string, entries: ReadonlyMap<string, string>): Promise<void> {
    if (entries.size === 0) return;
    this.#noteUsed(kind, entries.keys());
    // In one order everywhere, so that two processes never wait for each other in a ring.
    const rows = [...entries].map(([key, text]) => ({ kind, key, text: text.replaceAll('\0', '\uFFFD') })).toSorted((a, b) => (a.key < b.key ? -1 : 1));
    await this.#database.transaction().execute(async (transaction) => {
      for (const part of inParts(rows)) {
        await transaction
          .insertInto('gemel_kept')
          .values(part)
          .onConflict((conflict) => conflict.columns(['kind', 'key']).doUpdateSet((row) => ({ text: row.ref('excluded.text') })))
          .execute();
      }
    });
  }

  async forget(kind: string, keys: readonly string[]): Promise<void> {
    for (const part of inParts(keys)) await this.#database.deleteFrom('gemel_kept').where('kind', '=', kind).where('key', 'in', part).execute();
  }

  async keys(kind: string): Promise<readonly string[]> {
    const rows = await this.#database.selectFrom('gemel_kept').select('key').where('kind', '=', kind).execute();
    return rows.map(({ key }) => key).toSorted((a, b) => (a < b ? -1 : Number(a > b)));
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
    await this.#database.destroy();
    await this.#closing?.();
  }
}
