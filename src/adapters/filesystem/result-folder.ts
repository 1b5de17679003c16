import { appendFile, lstat, mkdir, open, readFile, rename, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { UsageError } from '../../core/material/errors.ts';
import type { OutputFolder } from '../../ports.ts';

/** Lists what gemel made in a folder, so that a later run removes what no longer holds and touches nothing else. */
const MADE = '.gemel-made.json';
/** While a run goes on, what it writes: a JSON string a line. It is there only where a run did not come to its end. */
const MAKING = '.gemel-making';

/** One file gemel made: its size, and what it was made of ("" when nobody said). */
interface Made {
  readonly sizeBytes: number;
  readonly madeOf: string;
}

const UNSURE: Made = { sizeBytes: -1, madeOf: '' };

/**
 * A folder gemel writes its results to. Every file is written beside its name, synced and renamed, so it is whole or absent;
 * what an earlier run made and this one did not is removed at the end, and only that. A run that was killed leaves a note of what it
 * wrote, and the next takes none of it for granted.
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
    const begun = (await linesOf(join(folder, MAKING))).map((name) => [name, UNSURE] as const);
    return new ResultFolder(folder, new Map([...(await madeBefore(join(folder, MADE))), ...begun]));
  }

  /** Says which results stand in a folder: another after every run. Undefined when there are none, or a run did not come to its end. */
  static async stamp(folder: string): Promise<string | undefined> {
    const [made, making] = await Promise.all([MADE, MAKING].map(async (name) => stat(join(folder, name)).catch(() => undefined)));
    return made === undefined || making !== undefined ? undefined : `${made.size}-${made.mtimeMs}`;
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
    const unfinished = `${name}.unfinished-${process.pid}`;
    await this.#noteBegun([name, unfinished]);
    await mkdir(dirname(path), { recursive: true });
    await writeWhole(path, join(this.#folder, unfinished), content);
    this.#made.set(name, { sizeBytes: Buffer.byteLength(content), madeOf });
  }

  async #noteBegun(names: readonly string[]): Promise<void> {
    const note = join(this.#folder, MAKING);
    // What runs before this one left is written once more, without what they said twice.
    if (this.#made.size === 0) await writeWhole(note, `${note}.unfinished`, [...new Set(await linesOf(note))].map((name) => `${JSON.stringify(name)}\n`).join(''));
    await appendFile(note, names.map((name) => `${JSON.stringify(name)}\n`).join(''));
  }

  /** Removes what an earlier run left that no longer holds, and notes what is there now. */
  async finish(): Promise<void> {
    for (const name of this.#before.keys()) {
      if (!this.#made.has(name)) await rm(join(this.#folder, name), { force: true });
    }
    const made = Object.fromEntries([...this.#made].toSorted(([a], [b]) => (a < b ? -1 : 1)));
    const note = join(this.#folder, MADE);
    // Under one name always: what a kill leaves of it, the next run writes over.
    await writeWhole(note, `${note}.unfinished`, `${JSON.stringify(made, undefined, 1)}\n`);
    await rm(join(this.#folder, MAKING), { force: true });
  }
}

async function writeWhole(path: string, unfinished: string, content: string | Uint8Array): Promise<void> {
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

/** What a killed run began to write; its last line may be cut off. */
async function linesOf(path: string): Promise<readonly string[]> {
  const text = await readFile(path, 'utf8').catch(() => '');
  return text.split('\n').flatMap((line) => {
    try {
      const name: unknown = JSON.parse(line);
      return typeof name === 'string' && isPlain(name) ? [name] : [];
    } catch {
      return [];
    }
  });
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
  return isMade ? { sizeBytes: Number(value.sizeBytes), madeOf: String(value.madeOf) } : UNSURE;
}

function isPlain(name: string): boolean {
  return !name.includes('\\') && name.split('/').every((part) => part !== '' && part !== '..' && part !== '.');
}

function codeOf(cause: unknown): string {
  return cause instanceof Error && 'code' in cause ? String(cause.code) : String(cause);
}
