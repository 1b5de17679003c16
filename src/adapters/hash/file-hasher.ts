import { lstatSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { setImmediate as otherWork } from 'node:timers/promises';
import type { HashFormat } from '../../formats/mhl/hash-format.ts';
import type { HashedFile, Hasher } from '../../ports.ts';
import { HashingThread } from './hashing-thread.ts';
import { PIECE_BYTES, readAtOnce, readThrough } from './read-through.ts';
import type { RunningHash } from './running-hash.ts';
import { runningHashes } from './running-hashes.ts';

/** More threads than this ask more of a disk than it gives. */
const MOST_AT_ONCE = 4;
/** Work this long repays starting a thread, which takes 0.1 to 0.3 s of processor time. */
const WORTH_A_THREAD_MS = 400;
/** Other work of this thread waits no longer than this. */
const TURN_MS = 20;
/** Bytes a millisecond, cautiously, measured in the page cache on one core; only whether a thread pays depends on them. */
const BYTES_PER_MS: Readonly<Record<HashFormat, number>> = { c4: 800e3, md5: 650e3, sha1: 1500e3, xxh128: 3700e3, xxh3: 8000e3, xxh64: 7000e3 };

export interface FileHasherOptions {
  /** What a failure of the file system means to people. */
  readonly explain: (failure: unknown) => Error;
  /** False: WebAssembly even where the native package is there. */
  readonly useNative?: boolean;
}

type Hashes = Readonly<Record<HashFormat, RunningHash>>;

/** Where one file at a time is hashed: here between other work, or on a thread. */
type Lane = { readonly kind: 'here' } | { readonly kind: 'thread'; readonly thread: HashingThread };

/** Hashes files, several at once: one here, the others on threads where there is enough to do. Threads end with `await using`. */
export class FileHasher implements Hasher {
  readonly filesAtOnce = Math.min(MOST_AT_ONCE, availableParallelism());
  readonly #hashes: Hashes;
  /** For files that are read in one go, while another may be half read by the hashes of the lane. */
  readonly #small: Hashes;
  readonly #buffer = new Uint8Array(PIECE_BYTES);
  readonly #options: FileHasherOptions;
  readonly #idle: Lane[] = [{ kind: 'here' }];
  readonly #threads = new Set<HashingThread>();
  readonly #waiting: ((lane: Lane) => void)[] = [];
  #threadsAllowed = this.filesAtOnce - 1;

  private constructor(hashes: Hashes, small: Hashes, options: FileHasherOptions) {
    this.#hashes = hashes;
    this.#small = small;
    this.#options = options;
  }

  static async open(options: FileHasherOptions): Promise<FileHasher> {
    return new FileHasher(await runningHashes(options.useNative), await runningHashes(options.useNative), options);
  }

  readonly digest = (format: HashFormat, bytes: Uint8Array): string => {
    const hash = this.#small[format];
    hash.start();
    hash.add(bytes);
    return hash.end();
  };

  expect(bytes: number, formats: readonly HashFormat[]): void {
    const ms = formats.reduce((sum, format) => sum + bytes / BYTES_PER_MS[format], 0);
    this.#threadsAllowed = Math.min(this.filesAtOnce - 1, Math.floor(ms / WORTH_A_THREAD_MS));
  }

  async hashFile(path: string, formats: readonly HashFormat[], signal: AbortSignal, advance: (bytes: number) => void): Promise<HashedFile> {
    signal.throwIfAborted();
    try {
      const { size } = lstatSync(path);
      if (size > PIECE_BYTES) return await this.#onLane(path, formats, signal, advance);
      const hashed = readAtOnce(path, formats, { hashes: this.#small, buffer: this.#buffer, advance, isStopped: () => signal.aborted });
      if (hashed !== undefined) return hashed;
    } catch (failure) {
      signal.throwIfAborted();
      throw this.#options.explain(failure);
    }
    throw signal.reason;
  }

  async #onLane(path: string, formats: readonly HashFormat[], signal: AbortSignal, advance: (bytes: number) => void): Promise<HashedFile> {
    const lane = await this.#freeLane();
    try {
      return lane.kind === 'here' ? await this.#here(path, formats, signal, advance) : await lane.thread.hash(path, formats, signal, advance);
    } finally {
      // Whoever ends hands the lane to the next in the queue, so nobody can slip in between.
      const next = this.#waiting.shift();
      if (next === undefined) this.#idle.push(lane);
      else next(lane);
    }
  }

  async #freeLane(): Promise<Lane> {
    const idle = this.#idle.findIndex(({ kind }) => kind === 'here');
    const [lane] = this.#idle.splice(Math.max(0, idle), 1);
    if (lane !== undefined) return lane;
    if (this.#threads.size >= this.#threadsAllowed) return new Promise((resolve) => this.#waiting.push(resolve));
    const thread = new HashingThread(this.#options.useNative ?? true);
    this.#threads.add(thread);
    return { kind: 'thread', thread };
  }

  async #here(path: string, formats: readonly HashFormat[], signal: AbortSignal, advance: (bytes: number) => void): Promise<HashedFile> {
    const reading = readThrough(path, formats, { hashes: this.#hashes, buffer: this.#buffer, advance, isStopped: () => signal.aborted });
    try {
      for (let turn = performance.now(); ; ) {
        const { done, value } = reading.next();
        if (done === true && value !== undefined) return value;
        if (done === true) throw signal.reason;
        if (performance.now() - turn < TURN_MS) continue;
        await otherWork();
        turn = performance.now();
      }
    } finally {
      // Closes the file when it was left half read.
      reading.return(undefined);
    }
  }

  async [Symbol.asyncDispose](): Promise<void> {
    await Promise.all([...this.#threads].map(async (thread) => thread.end()));
    this.#threads.clear();
    this.#idle.length = 0;
  }
}
