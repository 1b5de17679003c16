import { mkdir, open, readFile, rename, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { UsageError } from '../../core/material/errors.ts';
import type { OutputFolder } from '../../ports.ts';

/** Lists what gemel made in a folder, so that a later run removes what no longer holds and touches nothing else. */
const MADE = '.gemel-made.json';

/**
 * A folder gemel writes its results to. Every file is written beside its name, synced and renamed, so it is whole or absent;
 * what an earlier run made and this one did not is removed at the end, and only that.
 */
export class ResultFolder implements OutputFolder {
  readonly #folder: string;
  readonly #before: readonly string[];
  readonly #made = new Set<string>();

  private constructor(folder: string, before: readonly string[]) {
    this.#folder = folder;
    this.#before = before;
  }

  /** @throws {UsageError} when the folder cannot be made or written to. */
  static async open(folder: string): Promise<ResultFolder> {
    try {
      await mkdir(folder, { recursive: true });
    } catch (cause) {
      throw new UsageError([`the output folder ${folder} cannot be made (${codeOf(cause)}); give --out FOLDER where you may write`]);
    }
    return new ResultFolder(folder, await madeBefore(join(folder, MADE)));
  }

  async write(name: string, content: string | Uint8Array): Promise<void> {
    const path = join(this.#folder, name);
    await mkdir(dirname(path), { recursive: true });
    await writeWhole(path, content);
    this.#made.add(name);
  }

  /** Removes what an earlier run left that no longer holds, and notes what is there now. */
  async finish(): Promise<void> {
    for (const name of this.#before) {
      if (!this.#made.has(name)) await rm(join(this.#folder, name), { force: true });
    }
    await writeWhole(join(this.#folder, MADE), `${JSON.stringify([...this.#made].toSorted(), undefined, 1)}\n`);
  }
}

async function writeWhole(path: string, content: string | Uint8Array): Promise<void> {
  const unfinished = `${path}.unfinished-${process.pid}`;
  try {
    const file = await open(unfinished, 'w');
    try {
      await file.writeFile(content);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(unfinished, path);
  } catch (cause) {
    await rm(unfinished, { force: true }).catch(() => {});
    throw cause;
  }
}

/** Names an earlier run noted; anything that is not a plain relative name is passed over, so that nothing outside can be removed. */
async function madeBefore(path: string): Promise<readonly string[]> {
  const text = await readFile(path, 'utf8').catch(() => '[]');
  try {
    const names: unknown = JSON.parse(text);
    return Array.isArray(names) ? names.filter((name) => typeof name === 'string' && isPlain(name)) : [];
  } catch {
    return [];
  }
}

function isPlain(name: string): boolean {
  return !name.includes('\\') && name.split('/').every((part) => part !== '' && part !== '..' && part !== '.');
}

function codeOf(cause: unknown): string {
  return cause instanceof Error && 'code' in cause ? String(cause.code) : String(cause);
}
