import type { Kysely } from 'kysely';
import { sql } from 'kysely';

/** The tables, as both SQLite and PostgreSQL have them. */
export interface CatalogueTables {
  readonly gemel_schema: { version: number };
  readonly gemel_places: { job: string; file: string; signature: string; content: string | null };
  readonly gemel_kept: { kind: string; key: string; text: string };
  /** The day (since 1970) each kept text, and under "places" each job's places, was last of use. */
  readonly gemel_used: { kind: string; key: string; day: number };
}

type Migration = (database: Kysely<CatalogueTables>) => Promise<void>;

/** In order; a catalogue of version n has had the first n. Add at the end, never change one that was released. */
const MIGRATIONS: readonly Migration[] = [
  async (database) => {
    await database.schema
      .createTable('gemel_places')
      .addColumn('job', 'text', (column) => column.notNull())
      .addColumn('file', 'text', (column) => column.notNull())
      .addColumn('signature', 'text', (column) => column.notNull())
      .addColumn('content', 'text')
      .addPrimaryKeyConstraint('gemel_places_key', ['job', 'file'])
      .execute();
    await database.schema
      .createTable('gemel_kept')
      .addColumn('kind', 'text', (column) => column.notNull())
      .addColumn('key', 'text', (column) => column.notNull())
      .addColumn('text', 'text', (column) => column.notNull())
      .addPrimaryKeyConstraint('gemel_kept_key', ['kind', 'key'])
      .execute();
  },
  // Apart from the texts, which would be written anew with every day they are used.
  async (database) => {
    await database.schema
      .createTable('gemel_used')
      .addColumn('kind', 'text', (column) => column.notNull())
      .addColumn('key', 'text', (column) => column.notNull())
      .addColumn('day', 'integer', (column) => column.notNull())
      .addPrimaryKeyConstraint('gemel_used_key', ['kind', 'key'])
      .execute();
  },
];

/** The version this gemel writes. */
export const CATALOGUE_VERSION = MIGRATIONS.length;

/** A catalogue that a newer gemel made: this one must not write to it. */
export class NewerCatalogueError extends Error {
  override readonly name = 'NewerCatalogueError';
}

/**
 * Brings the tables up to date, each step whole or not at all; several processes may try at once.
 * @throws {NewerCatalogueError} when a newer gemel made the catalogue.
 */
export async function migrate(database: Kysely<CatalogueTables>, lockTables: (transaction: Kysely<CatalogueTables>) => Promise<void>): Promise<void> {
  await sql`create table if not exists gemel_schema (version integer not null)`.execute(database).catch(async (problem: unknown) => {
    // Two processes that make the same table at once: PostgreSQL lets one of them fail, and then the table is there.
    await database.selectFrom('gemel_schema').select('version').execute().catch(() => Promise.reject(problem));
  });
  await database.transaction().execute(async (transaction) => {
    await lockTables(transaction);
    const version = (await transaction.selectFrom('gemel_schema').select('version').executeTakeFirst())?.version ?? 0;
    if (version > CATALOGUE_VERSION) throw new NewerCatalogueError(`it has version ${version}, and this gemel knows versions up to ${CATALOGUE_VERSION}`);
    if (version === CATALOGUE_VERSION) return;
    for (const step of MIGRATIONS.slice(version)) await step(transaction);
    await transaction.deleteFrom('gemel_schema').execute();
    await transaction.insertInto('gemel_schema').values({ version: CATALOGUE_VERSION }).execute();
  });
}
