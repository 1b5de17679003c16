import { mkdir, rename } from 'node:fs/promises';
import { dirname } from 'node:path';
import { Kysely } from 'kysely';
import type { Catalogue } from '../../ports.ts';
import { KyselyCatalogue } from './kysely-catalogue.ts';
import type { CatalogueTables } from './migrations.ts';
import { NewerCatalogueError, migrate } from './migrations.ts';
import { nodeSqliteDialect, openSqlite } from './sqlite-dialect.ts';

/** An open catalogue, and what had to be done to open it, for people to read. */
export interface OpenedCatalogue {
  readonly catalogue: Catalogue;
  readonly warnings: readonly string[];
}

/**
 * Opens the catalogue in a file, making or mending it: one that is damaged is put aside and begun anew, for all that was in it can
 * be worked out again from the media.
 * @throws {NewerCatalogueError} when a newer gemel made it.
 */
export async function openSqliteCatalogue(path: string, job: string): Promise<OpenedCatalogue> {
  await mkdir(dirname(path), { recursive: true });
  try {
    return { catalogue: await openSound(path, job), warnings: [] };
  } catch (problem) {
    if (problem instanceof NewerCatalogueError || !isDamage(problem)) throw problem;
    const aside = await putAside(path);
    const reason = problem instanceof Error ? problem.message : String(problem);
    return {
      catalogue: await openSound(path, job),
      warnings: [`the catalogue ${path} was damaged (${reason}); it was put aside as ${aside} and is made anew from the media`],
    };
  }
}

async function openSound(path: string, job: string): Promise<Catalogue> {
  const sqlite = openSqlite(path);
  const database = new Kysely<CatalogueTables>({ dialect: nodeSqliteDialect(sqlite) });
  try {
    const verdict = sqlite.prepare('PRAGMA quick_check(1)').get()?.['quick_check'];
    if (verdict !== 'ok') throw new DamagedError(String(verdict));
    // A transaction that reads first and writes later is refused when another wrote between; one that writes first waits its turn.
    await migrate(database, async (transaction) => void (await transaction.deleteFrom('gemel_schema').where('version', '<', 0).execute()));
    return new KyselyCatalogue(database, job);
  } catch (problem) {
    await database.destroy();
    throw problem;
  }
}

class DamagedError extends Error {
  override readonly name = 'DamagedError';
}

/** SQLITE_CORRUPT (11) and SQLITE_NOTADB (26), and what the check itself says. https://www.sqlite.org/rescode.html */
function isDamage(problem: unknown): boolean {
  return problem instanceof DamagedError || (problem instanceof Error && 'errcode' in problem && [11, 26].includes(Number(problem.errcode) & 0xff));
}

async function putAside(path: string): Promise<string> {
  const aside = `${path}.damaged`;
  await rename(path, aside);
  for (const tail of ['-wal', '-shm']) await rename(path + tail, aside + tail).catch(() => {});
  return aside;
}
