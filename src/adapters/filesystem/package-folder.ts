import { readSync } from 'node:fs';
import type { FileHandle } from 'node:fs/promises';
import { appendFile, lstat, mkdir, open, readdir, readFile, rename, rm, rmdir, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { crc32 } from 'node:zlib';
import { UsageError } from '../../core/material/errors.ts';
import type { PackageBuild } from '../../ports.ts';

/** One file that was written whole: enough to tell, after a crash, whether it still is. */
interface Noted {
  readonly file: string;
  readonly size: number;
  readonly sum: string;
  readonly madeOf: string;
}

/** A check sum over pieces: `start`, `add` each, `end`, with nothing else in between. */
export interface RunningSum {
  start(): void;
  add(bytes: Uint8Array): void;
  /** A text that names its kind too, so that sums of two kinds never agree. */
  end(): string;
}

/** What every Node has. A native hash is three times as fast, and it is one processor's work for each frame that is pulled. */
function plainSum(): RunningSum {
  let crc = 0;
  return { start: () => { crc = 0; }, add: (bytes) => { crc = crc32(bytes, crc); }, end: () => `crc32 ${crc.toString(16)}` };
}

const SYNCS_AT_ONCE = 8;
const START_BYTES = 2048;
const PIECE_BYTES = 1 << 19;

/**
 * A package that is built beside its place as `.NAME.building` and moved there in one step: at no moment is there half a package
 * under its name. A note of each file that was written whole lies beside it, so that a run after a crash goes on from there.
 */
export class PackageFolder implements PackageBuild {
  readonly #target: string;
  readonly #building: string;
  readonly #sum: RunningSum;
  readonly #before: ReadonlyMap<string, Noted>;
  readonly #made = new Set<string>();
  readonly #folders = new Set<string>();
  /** Used again for every file: fresh ones cost more than reading. */
  readonly #buffer = new Uint8Array(PIECE_BYTES);
  #notes = Promise.resolve();

  private constructor(target: string, building: string, sum: RunningSum, before: ReadonlyMap<string, Noted>) {
    this.#target = target;
    this.#building = building;
    this.#sum = sum;
    this.#before = before;
  }

  /** `target` is absolute. @throws {UsageError} when it is there already, cannot be written beside, or another gemel builds it. */
  static async open(target: string, sum = plainSum()): Promise<PackageFolder> {
    const building = join(dirname(target), `.${basename(target)}.building`);
    await assertFree(target);
    await asUsage(target, async () => {
      await mkdir(join(building, 'package'), { recursive: true });
      await lock(join(building, 'lock'), building);
    });
    return new PackageFolder(target, building, sum, await readNotes(join(building, 'notes')));
  }

  /** Where the package is being built, for whoever seals it. */
  get folder(): string {
    return join(this.#building, 'package');
  }

  async holds(file: string, madeOf: string): Promise<boolean> {
    const noted = this.#before.get(file);
    if (noted === undefined || noted.madeOf !== shortened(madeOf)) return false;
    const path = join(this.folder, file);
    const facts = await lstat(path).catch(() => undefined);
    if (facts?.isFile() !== true || facts.size !== noted.size) return false;
    await using handle = await open(path, 'r');
    if (this.#measure(handle).sum !== noted.sum) return false;
    this.#made.add(file);
    return true;
  }

  async write(file: string, bytes: Uint8Array, madeOf = ''): Promise<void> {
    await this.writeParts(file, [bytes], madeOf);
  }

  async writeParts(file: string, parts: readonly Uint8Array[], madeOf: string): Promise<void> {
    const path = await this.pathFor(file);
    await asUsage(this.#target, async () => {
      await using handle = await open(path, 'w');
      for (const part of parts) await handle.writeFile(part);
      if (madeOf !== '') await this.#note({ file, ...this.#sumOf(parts), madeOf: shortened(madeOf) });
    });
  }

  async pathFor(file: string): Promise<string> {
    const path = join(this.folder, file);
    const folder = dirname(path);
    if (!this.#folders.has(folder)) await asUsage(this.#target, async () => mkdir(folder, { recursive: true }));
    this.#folders.add(folder);
    this.#made.add(file);
    return path;
  }

  async kept(file: string, madeOf: string, start?: (bytes: Uint8Array) => Uint8Array): Promise<void> {
    const path = join(this.folder, file);
    await asUsage(this.#target, async () => {
      await using handle = await open(path, 'r+');
      if (start !== undefined) {
        const bytes = new Uint8Array(START_BYTES);
        const { bytesRead } = await handle.read(bytes, 0, START_BYTES, 0);
        await handle.write(start(bytes.subarray(0, bytesRead)), 0, undefined, 0);
      }
      this.#made.add(file);
      await this.#note({ file, ...this.#measure(handle), madeOf: shortened(madeOf) });
    });
  }

  /** Removes from the building folder what an earlier run left and this one does not hold: after it, the folder is the package. */
  async tidy(): Promise<void> {
    await asUsage(this.#target, async () => removeAllBut(this.folder, '', this.#made));
  }

  /** Moves the package to its place, synced to the disk. Call it once, at the end. */
  async commit(): Promise<void> {
    await asUsage(this.#target, async () => {
      await syncTree(this.folder);
      await assertFree(this.#target);
      await rmdir(this.#target).catch(() => {});
      await rename(this.folder, this.#target);
      await syncFolder(dirname(this.#target));
      await rm(this.#building, { recursive: true, force: true });
    });
  }

  /** Lets another run go on where this one stopped. */
  async release(): Promise<void> {
    await rm(join(this.#building, 'lock'), { force: true }).catch(() => {});
  }

  /**
   * Size and check sum of a file. Read without a thread: pictures were written a moment ago and lie in memory, where a thread for each piece
   * costs as much as the reading.
   */
  #measure({ fd }: FileHandle): Pick<Noted, 'size' | 'sum'> {
    this.#sum.start();
    let size = 0;
    for (;;) {
      const bytesRead = readSync(fd, this.#buffer, 0, this.#buffer.length, size);
      if (bytesRead === 0) return { size, sum: this.#sum.end() };
      this.#sum.add(this.#buffer.subarray(0, bytesRead));
      size += bytesRead;
    }
  }

  #sumOf(parts: readonly Uint8Array[]): Pick<Noted, 'size' | 'sum'> {
    this.#sum.start();
    for (const part of parts) this.#sum.add(part);
    return { size: parts.reduce((bytes, part) => bytes + part.length, 0), sum: this.#sum.end() };
  }

  /** One line at a time, so that two never mix. */
  async #note(noted: Noted): Promise<void> {
    const done = this.#notes.then(async () => appendFile(join(this.#building, 'notes'), `${JSON.stringify(noted)}\n`));
    this.#notes = done.catch(() => {});
    return done;
  }
}

/** Recipes can be long and stand in every line: their check sum and length tell them apart. */
function shortened(madeOf: string): string {
  return madeOf === '' ? '' : `${crc32(madeOf).toString(16)}-${crc32(`${madeOf} `).toString(16)}-${madeOf.length}`;
}

async function assertFree(target: string): Promise<void> {
  const facts = await lstat(target).catch(() => undefined);
  if (facts === undefined) return;
  const empty = facts.isDirectory() && (await readdir(target)).length === 0;
  if (!empty) throw new UsageError([`${target} is there already, and a package that was handed over is never changed; give another name by --out`]);
}

async function lock(path: string, building: string): Promise<void> {
  for (;;) {
    try {
      await writeFile(path, String(process.pid), { flag: 'wx' });
      return;
    } catch (problem) {
      if (codeOf(problem) !== 'EEXIST') throw problem;
    }
    const owner = Number(await readFile(path, 'utf8').catch(() => '0'));
    if (owner > 0 && owner !== process.pid && isAlive(owner)) throw new UsageError([`another gemel (process ${owner}) is building this package; wait for it, or end it and remove ${join(building, 'lock')}`]);
    await rm(path, { force: true });
  }
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (problem) {
    return codeOf(problem) === 'EPERM';
  }
}

/** Lines of an earlier run; a last one that was cut off is passed over. */
async function readNotes(path: string): Promise<ReadonlyMap<string, Noted>> {
  const text = await readFile(path, 'utf8').catch(() => '');
  const notes = new Map<string, Noted>();
  for (const line of text.split('\n')) {
    const noted = notedIn(line);
    if (noted !== undefined) notes.set(noted.file, noted);
  }
  return notes;
}

function notedIn(line: string): Noted | undefined {
  try {
    const read: unknown = JSON.parse(line);
    if (typeof read !== 'object' || read === null || !('file' in read && 'size' in read && 'sum' in read && 'madeOf' in read)) return undefined;
    const { file, size, sum, madeOf } = read;
    return typeof file === 'string' && typeof size === 'number' && typeof sum === 'string' && typeof madeOf === 'string' ? { file, size, sum, madeOf } : undefined;
  } catch {
    return undefined;
  }
}

async function removeAllBut(folder: string, prefix: string, kept: ReadonlySet<string>): Promise<void> {
  for (const entry of await readdir(join(folder, prefix), { withFileTypes: true })) {
    const file = `${prefix}${entry.name}`;
    if (entry.isDirectory()) {
      await removeAllBut(folder, `${file}/`, kept);
      // Only empty ones go.
      await rmdir(join(folder, file)).catch(() => {});
    } else if (!kept.has(file)) await rm(join(folder, file), { force: true });
  }
}

async function syncTree(folder: string): Promise<void> {
  const entries = await readdir(folder, { withFileTypes: true, recursive: true });
  const files = entries.filter((entry) => entry.isFile()).map((entry) => join(entry.parentPath, entry.name));
  const next = files.values();
  const work = Array.from({ length: SYNCS_AT_ONCE }, async () => {
    for (const file of next) await syncFile(file);
  });
  await Promise.all(work);
  for (const entry of entries.filter((one) => one.isDirectory())) await syncFolder(join(entry.parentPath, entry.name));
  await syncFolder(folder);
}

async function syncFile(path: string): Promise<void> {
  const file = await open(path, 'r+');
  try {
    await file.datasync();
  } finally {
    await file.close();
  }
}

/** Some systems do not open folders; their renames need no sync. */
async function syncFolder(path: string): Promise<void> {
  const folder = await open(path, 'r').catch(() => undefined);
  if (folder === undefined) return;
  await folder.sync().catch(() => {});
  await folder.close();
}

const REASONS: Readonly<Record<string, string>> = {
  ENOSPC: 'the disk is full; make room or give --out on another disk, then run the same command again: what is already right is taken over',
  EDQUOT: 'your share of the disk is used up; make room or give --out on another disk, then run the same command again',
  EROFS: 'the disk takes no writing; give --out where you may write',
  EACCES: 'you may not write there; give --out where you may',
  EPERM: 'you may not write there; give --out where you may',
  ENOTDIR: 'part of the path is a file, not a folder; give another --out',
  ENAMETOOLONG: 'the path is too long for this disk; give a shorter --out',
};

async function asUsage<T>(target: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (problem) {
    const reason = REASONS[codeOf(problem)];
    if (reason === undefined) throw problem;
    throw new UsageError([`the package ${target} cannot be built: ${reason}`]);
  }
}

function codeOf(problem: unknown): string {
  return problem instanceof Error && 'code' in problem ? String(problem.code) : '';
}
