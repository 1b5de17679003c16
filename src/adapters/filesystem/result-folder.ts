import { lstat, mkdir, open, readFile, rename, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { UsageError } from '../../core/material/errors.ts';
import type { OutputFolder } from '../../ports.ts';

/** Lists what gemel made in a folder, so that a later run removes what no longer holds and touches nothing else. */
const MADE = '.gemel-made.json';

/** One file gemel made: its size, and what it was made of ("" when nobody said). */
interface Made {
  readonly sizeBytes: number;
  readonly madeOf: string;
}

/**
 * A folder gemel writes its results to. Every file is written beside its name, synced and renamed, so it is whole or absent;
 * what an earlier run made and this one did not is removed at the end, and only that.
 */
export class ResultFolder implements OutputFolder {
  readonly #folder: string;
  readonly #before: ReadonlyMap<string, Made>;
  readonly #made = new Map<string, Made>();

  private constructor(folder: string, before: ReadonlyMap<string, Made>) {
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

  async holds(name: string, madeOf: string): Promise<boolean> {
    const before = this.#before.get(name);
    if (before === undefined || before.madeOf !== madeOf || madeOf === '') return false;
    const facts = await lstat(join(this.#folder, name)).catch(() => undefined);
    if (facts?.isFile() !== true || facts.size !== before.sizeBytes) return false;
    this.#made.set(name, before);
    return true;
  }

  async write(name: string, content: string | Uint8Array, madeOf = ''): Promise<void> {
    const path = join(this.#folder, name);
    await mkdir(dirname(path), { recursive: true });
    await writeWhole(path, content);
    this.#made.set(name, { sizeBytes: Buffer.byteLength(content), madeOf });
  }

  /** Removes what an earlier run left that no longer holds, and notes what is there now. */
  async finish(): Promise<void> {
    for (const name of this.#before.keys()) {
      if (!this.#made.has(name)) await rm(join(this.#folder, name), { force: true });
    }
    const made = Object.fromEntries([...this.#made].toSorted(([a], [b]) => (a < b ? -1 : 1)));
    await writeWhole(join(this.#folder, MADE), `${JSON.stringify(made, undefined, 1)}\n`);
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

/** What an earlier run noted; anything that is not a plain relative name is passed over, so that nothing outside can be removed. */
async function madeBefore(path: string): Promise<ReadonlyMap<string, Made>> {
  const text = await readFile(path, 'utf8').catch(() => '{}');
  try {
    const noted: unknown = JSON.parse(text);
    return new Map(entriesOf(noted).filter(([name]) => isPlain(name)));
  } catch {
    return new Map();
  }
}

function entriesOf(noted: unknown): readonly (readonly [string, Made])[] {
  if (typeof noted !== 'object' || noted === null) return [];
  return Object.entries(noted).map(([name, made]: [string, unknown]) => [name, asMade(made)]);
}

function asMade(value: unknown): Made {
  const isMade = typeof value === 'object' && value !== null && 'sizeBytes' in value && typeof value.sizeBytes === 'number' && 'madeOf' in value && typeof value.madeOf === 'string';
  return isMade ? { sizeBytes: Number(value.sizeBytes), madeOf: String(value.madeOf) } : { sizeBytes: -1, madeOf: '' };
}

function isPlain(name: string): boolean {
  return !name.includes('\\') && name.split('/').every((part) => part !== '' && part !== '..' && part !== '.');
}

function codeOf(cause: unknown): string {
  return cause instanceof Error && 'code' in cause ? String(cause.code) : String(cause);
}
