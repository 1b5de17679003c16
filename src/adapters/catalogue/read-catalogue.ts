import { DatabaseSync } from 'node:sqlite';
import type { CatalogueEntry } from '../../formats/catalogue/catalogue-export.ts';
import { CATALOGUE_VERSION, newerCatalogue, versionOf } from './migrations.ts';
import { PostgresDatabase } from './postgres-database.ts';
import type { SqlDatabase, SqlRow } from './sql-database.ts';
import { textOf } from './sql-database.ts';
import { SqliteDatabase } from './sqlite-database.ts';

/** Kept texts are up to a megabyte, and all of these are in memory at a time. */
const ROWS_AT_ONCE = 100;

/** Everything in a catalogue file, in order of kinds and keys. Reads only; a watch may go on with it meanwhile. @throws {Error} when it is no catalogue. */
export async function* sqliteLines(path: string): AsyncGenerator<CatalogueEntry> {
  yield* lines(new SqliteDatabase(new DatabaseSync(path, { readOnly: true, timeout: 10_000 })));
}

/** The same of the catalogue in a PostgreSQL database, of all jobs. @throws {Error} when the server does not answer, or has none. */
export async function* postgresLines(databaseUrl: string): AsyncGenerator<CatalogueEntry> {
  yield* lines(new PostgresDatabase(databaseUrl, 1));
}

async function* lines(database: SqlDatabase): AsyncGenerator<CatalogueEntry> {
  try {
    const version = await versionOf(database);
    if (version === undefined) throw new Error('it holds no catalogue');
    if (version > CATALOGUE_VERSION) throw newerCatalogue(version);
    for await (const row of inOrder(database, { table: 'gemel_places', first: 'job', second: 'file', others: 'signature, content' })) {
      yield { kind: 'place', job: textOf(row, 'job'), file: textOf(row, 'file'), signature: textOf(row, 'signature'), content: row['content'] === null ? null : textOf(row, 'content') };
    }
    for await (const row of inOrder(database, { table: 'gemel_kept', first: 'kind', second: 'key', others: 'text' })) {
      yield { kind: 'kept', of: textOf(row, 'kind'), key: textOf(row, 'key'), text: textOf(row, 'text') };
    }
  } finally {
    await database.close();
  }
}

/** The rows of a table by its key of two columns, some at a time. */
async function* inOrder(database: SqlDatabase, { table, first, second, others }: { readonly table: string; readonly first: string; readonly second: string; readonly others: string }): AsyncGenerator<SqlRow> {
  const statement = `select ${first}, ${second}, ${others} from ${table} where ${first} > ? or (${first} = ? and ${second} > ?) order by ${first}, ${second} limit ${ROWS_AT_ONCE}`;
  for (let after = ['', '']; ; ) {
    const [a = '', b = ''] = after;
    const rows = await database.rows(statement, [a, a, b]);
    yield* rows;
    const last = rows.at(-1);
    if (last === undefined) return;
    after = [textOf(last, first), textOf(last, second)];
  }
}
