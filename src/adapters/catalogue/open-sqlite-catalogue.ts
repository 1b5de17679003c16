import { writeFileSync } from 'node:fs';
import { mkdir, open, rename, rm, stat } from 'node:fs/promises';
import { dirname } from 'node:path';
import type { DatabaseSync } from 'node:sqlite';
import type { Catalogue } from '../../ports.ts';
import { NewerCatalogueError, migrate } from './migrations.ts';
import { SqlCatalogue } from './sql-catalogue.ts';
import { SqliteDatabase, openSqlite } from './sqlite-database.ts';

const SMALL_BYTES = 16 * 1024 * 1024;
/** Stands beside a catalogue in which a statement met damage. */
const DOUBT = '.doubt';

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
  const doubt = `${path}${DOUBT}`;
  const [met, doubted] = [await isThere(doubt), await isDoubted(path)];
  const sqlite = openSqlite(path);
  const database = new SqliteDatabase(sqlite, (problem) => isDamage(problem) && writeFileSync(doubt, ''));
  try {
    if (met || doubted) checkWhole(sqlite, met ? 'integrity_check' : 'quick_check');
    await rm(doubt, { force: true });
    // A transaction that reads first and writes later is refused when another wrote between; one that writes first waits its turn.
    await migrate(database, async (session) => void (await session.rows('delete from gemel_schema where version < 0')));
    return new SqlCatalogue(database, job);
  } catch (problem) {
    await database.close();
    throw problem;
  }
}

/**
 * Whether every page must be looked at, which takes a second a gigabyte or more: when the file is small, when whoever had it open
 * did not close it (only the last to close removes the log), and when it is shorter than it says.
 */
async function isDoubted(path: string): Promise<boolean> {
  const [file, log] = await Promise.all([path, `${path}-wal`].map(async (each) => stat(each).catch(() => undefined)));
  return file === undefined || file.size < SMALL_BYTES || log !== undefined || file.size < (await statedBytes(path));
}

/** Page size and count as the header has them. https://www.sqlite.org/fileformat2.html, 1.3 */
async function statedBytes(path: string): Promise<number> {
  await using file = await open(path, 'r');
  const { buffer } = await file.read(Buffer.alloc(32), 0, 32, 0);
  const pageSize = buffer.readUInt16BE(16);
  return (pageSize === 1 ? 65_536 : pageSize) * buffer.readUInt32BE(28);
}

async function isThere(path: string): Promise<boolean> {
  return stat(path).then(() => true, () => false);
}

/** The quick check looks at every page; the other holds indexes against their tables as well. */
function checkWhole(sqlite: DatabaseSync, check: 'quick_check' | 'integrity_check'): void {
  const verdict = sqlite.prepare(`PRAGMA ${check}(1)`).get()?.[check];
  if (verdict !== 'ok') throw new DamagedError(String(verdict).replaceAll(/\s+/g, ' '));
}

class DamagedError extends Error {
  override readonly name = 'DamagedError';
}

/** Whether a problem says that the file is damaged: SQLITE_CORRUPT (11) and SQLITE_NOTADB (26), and what the check itself says. https://www.sqlite.org/rescode.html */
export function isDamage(problem: unknown): boolean {
  return problem instanceof DamagedError || (problem instanceof Error && 'errcode' in problem && [11, 26].includes(Number(problem.errcode) & 0xff));
}

async function putAside(path: string): Promise<string> {
  const aside = `${path}.damaged`;
  await rename(path, aside);
  await rm(`${path}${DOUBT}`, { force: true });
  for (const tail of ['-wal', '-shm']) await rename(path + tail, aside + tail).catch(() => {});
  return aside;
}
