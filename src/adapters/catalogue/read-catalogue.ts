import { DatabaseSync } from 'node:sqlite';
import { Kysely, PostgresDialect } from 'kysely';
import { Pool } from 'pg';
import type { CatalogueEntry } from '../../formats/catalogue/catalogue-export.ts';
import type { CatalogueTables } from './migrations.ts';
import { CATALOGUE_VERSION, NewerCatalogueError } from './migrations.ts';
import { nodeSqliteDialect } from './sqlite-dialect.ts';

/** Kept texts are up to a megabyte, and all of these are in memory at a time. */
const ROWS_AT_ONCE = 100;

/** Everything in a catalogue file, in order of kinds and keys. Reads only; a watch may go on with it meanwhile. @throws {Error} when it is no catalogue. */
export async function* sqliteLines(path: string): AsyncGenerator<CatalogueEntry> {
  yield* lines(new Kysely({ dialect: nodeSqliteDialect(new DatabaseSync(path, { readOnly: true, timeout: 10_000 })) }));
}

/** The same of the catalogue in a PostgreSQL database, of all jobs. @throws {Error} when the server does not answer, or has none. */
export async function* postgresLines(databaseUrl: string): AsyncGenerator<CatalogueEntry> {
  const pool = new Pool({ connectionString: databaseUrl, max: 1, connectionTimeoutMillis: 10_000 });
  pool.on('error', () => {});
  yield* lines(new Kysely({ dialect: new PostgresDialect({ pool }) }));
}

async function* lines(database: Kysely<CatalogueTables>): AsyncGenerator<CatalogueEntry> {
  try {
    const { version } = await database.selectFrom('gemel_schema').select('version').executeTakeFirstOrThrow();
    if (version > CATALOGUE_VERSION) throw new NewerCatalogueError(`it has version ${version}, and this gemel knows versions up to ${CATALOGUE_VERSION}`);
    yield* places(database);
    yield* kept(database);
  } finally {
    await database.destroy();
  }
}

async function* places(database: Kysely<CatalogueTables>): AsyncGenerator<CatalogueEntry> {
  let after = { job: '', file: '' };
  for (;;) {
    const rows = await database
      .selectFrom('gemel_places')
      .select(['job', 'file', 'signature', 'content'])
      .where((row) => row.or([row('job', '>', after.job), row.and([row('job', '=', after.job), row('file', '>', after.file)])]))
      .orderBy('job')
      .orderBy('file')
      .limit(ROWS_AT_ONCE)
      .execute();
    for (const row of rows) yield { kind: 'place', ...row };
    const last = rows.at(-1);
    if (last === undefined) return;
    after = last;
  }
}

async function* kept(database: Kysely<CatalogueTables>): AsyncGenerator<CatalogueEntry> {
  let after = { kind: '', key: '' };
  for (;;) {
    const rows = await database
      .selectFrom('gemel_kept')
      .select(['kind', 'key', 'text'])
      .where((row) => row.or([row('kind', '>', after.kind), row.and([row('kind', '=', after.kind), row('key', '>', after.key)])]))
      .orderBy('kind')
      .orderBy('key')
      .limit(ROWS_AT_ONCE)
      .execute();
    for (const { kind, key, text } of rows) yield { kind: 'kept', of: kind, key, text };
    const last = rows.at(-1);
    if (last === undefined) return;
    after = last;
  }
}
