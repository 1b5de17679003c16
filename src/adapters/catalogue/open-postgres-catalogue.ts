import type { Catalogue } from '../../ports.ts';
import { migrate } from './migrations.ts';
import { PostgresDatabase } from './postgres-database.ts';
import { SqlCatalogue } from './sql-catalogue.ts';

/** A worker asks one thing at a time; a watcher a few. */
const CONNECTIONS = 4;

/**
 * Opens the catalogue in a PostgreSQL database. The address may hold a password: it is in no message.
 * @throws {Error} when the server does not answer or refuses.
 */
export async function openPostgresCatalogue(databaseUrl: string, job: string): Promise<Catalogue> {
  const database = new PostgresDatabase(databaseUrl, CONNECTIONS);
  try {
    await migrate(database, async (session) => void (await session.rows('lock table gemel_schema in exclusive mode')));
  } catch (problem) {
    await database.close();
    throw problem;
  }
  return new SqlCatalogue(database, job);
}
