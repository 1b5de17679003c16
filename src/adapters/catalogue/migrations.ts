import type { SqlDatabase, SqlSession } from './sql-database.ts';

/** In order; a catalogue of version n has had the first n. Add at the end, never change one that was released. */
const MIGRATIONS: readonly (readonly string[])[] = [
  [
    'create table gemel_places (job text not null, file text not null, signature text not null, content text, constraint gemel_places_key primary key (job, file))',
    'create table gemel_kept (kind text not null, key text not null, text text not null, constraint gemel_kept_key primary key (kind, key))',
  ],
  // The day (since 1970) each kept text, and under "places" each job's places, was last of use. Apart from the texts, which would
  // be written anew with every day they are used.
  ['create table gemel_used (kind text not null, key text not null, day integer not null, constraint gemel_used_key primary key (kind, key))'],
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
export async function migrate(database: SqlDatabase, lockTables: (session: SqlSession) => Promise<void>): Promise<void> {
  await database.rows('create table if not exists gemel_schema (version integer not null)').catch(async (problem: unknown) => {
    // Two processes that make the same table at once: PostgreSQL lets one of them fail, and then the table is there.
    await versionOf(database).catch(() => Promise.reject(problem));
  });
  await database.whole(async (session) => {
    await lockTables(session);
    const version = (await versionOf(session)) ?? 0;
    if (version > CATALOGUE_VERSION) throw newerCatalogue(version);
    if (version === CATALOGUE_VERSION) return;
    for (const statement of MIGRATIONS.slice(version).flat()) await session.rows(statement);
    await session.rows('delete from gemel_schema');
    await session.rows('insert into gemel_schema (version) values (?)', [CATALOGUE_VERSION]);
  });
}

/** The version of a catalogue; undefined when it has no tables yet. @throws {Error} when it is no catalogue at all. */
export async function versionOf(session: SqlSession): Promise<number | undefined> {
  const version = (await session.rows('select version from gemel_schema'))[0]?.['version'];
  return typeof version === 'number' ? version : undefined;
}

/** What to throw at a version this gemel does not know. */
export function newerCatalogue(version: number): NewerCatalogueError {
  return new NewerCatalogueError(`it has version ${version}, and this gemel knows versions up to ${CATALOGUE_VERSION}`);
}
