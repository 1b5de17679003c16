import { Kysely, PostgresDialect, sql } from 'kysely';
import { Pool } from 'pg';
import type { Catalogue } from '../../ports.ts';
import { KyselyCatalogue } from './kysely-catalogue.ts';
import type { CatalogueTables } from './migrations.ts';
import { migrate } from './migrations.ts';

/** A worker asks one thing at a time; a watcher a few. */
const CONNECTIONS = 4;
const WAIT_MS = 10_000;

/**
 * Opens the catalogue in a PostgreSQL database. The address may hold a password: it is in no message.
 * @throws {Error} when the server does not answer or refuses.
 */
export async function openPostgresCatalogue(databaseUrl: string, job: string): Promise<Catalogue> {
  const pool = new Pool({ connectionString: databaseUrl, max: CONNECTIONS, connectionTimeoutMillis: WAIT_MS, statement_timeout: 60_000 });
  // A connection that is lost while nobody uses it must not end the process; the next question finds out.
  pool.on('error', () => {});
  const database = new Kysely<CatalogueTables>({ dialect: new PostgresDialect({ pool }) });
  try {
    await migrate(database, async (transaction) => void (await sql`lock table gemel_schema in exclusive mode`.execute(transaction)));
  } catch (problem) {
    await database.destroy();
    throw problem;
  }
  return new KyselyCatalogue(database, job);
}
