import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { hostname } from 'node:os';
import { dirname } from 'node:path';
import { DatabaseSync } from 'node:sqlite';

/** Somebody else writes there. `holder` is what that process said of itself: "process 4711 on cart-2". */
export class LockHeldError extends Error {
  override readonly name = 'LockHeldError';
  readonly holder: string;

  constructor(holder: string) {
    super(`another gemel writes there (${holder})`);
    this.holder = holder;
  }
}

/**
 * Holds the right to write to one output folder. The lock is one of the operating system on a small SQLite file, so it ends with
 * the process that holds it, however that ends.
 * @throws {LockHeldError} when another process holds it.
 */
export async function takeWriterLock(path: string, doing: string): Promise<AsyncDisposable> {
  await mkdir(dirname(path), { recursive: true });
  const database = new DatabaseSync(path, { timeout: 0 });
  try {
    database.exec('BEGIN EXCLUSIVE');
  } catch (problem) {
    database.close();
    if (!isBusy(problem)) throw problem;
    throw new LockHeldError(await readFile(`${path}.txt`, 'utf8').catch(() => 'it did not say which'));
  }
  await writeFile(`${path}.txt`, `${doing}, process ${process.pid} on ${hostname()}`);
  return {
    [Symbol.asyncDispose]: async () => {
      database.exec('ROLLBACK');
      database.close();
    },
  };
}

/** SQLITE_BUSY (5) and SQLITE_LOCKED (6). https://www.sqlite.org/rescode.html */
function isBusy(problem: unknown): boolean {
  return problem instanceof Error && 'errcode' in problem && [5, 6].includes(Number(problem.errcode) & 0xff);
}
