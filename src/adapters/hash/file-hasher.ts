import { lstat } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { HashFormat } from '../../formats/mhl/hash-format.ts';
import type { HashedFile, Hasher } from '../../ports.ts';
import type { HashAnswer, ThreadSetUp } from './hash-messages.ts';
import { PIECE_BYTES, readThrough } from './read-through.ts';
import type { RunningHash } from './running-hash.ts';
import { runningHashes } from './running-hash.ts';

/** More threads than this ask more of a disk than it gives. */
const MOST_THREADS = 4;

export interface FileHasherOptions {
  /** What a failure of the file system means to people. */
  readonly explain: (failure: unknown) => Error;
  /** False: WebAssembly even where the native package is there. */
  readonly useNative?: boolean;
}

/**
 * Hashes files, several at once on threads of their own; small ones at once where it stands, for a thread would cost more than
 * it saves. Threads are started when first needed and ended by `await using`.
 */
export class FileHasher implements Hasher {
  readonly filesAtOnce = Math.min(MOST_THREADS, availableParallelism());
  readonly #hashes: Readonly<Record<HashFormat, RunningHash>>;
  readonly #buffer = new Uint8Array(PIECE_BYTES);
  readonly #options: FileHasherOptions;
  readonly #idle: HashThread[] = [];
  readonly #all = new Set<HashThread>();
  readonly #waiting: (() => void)[] = [];
  #busy = 0;

  private constructor(hashes: Readonly<Record<HashFormat, RunningHash>>, options: FileHasherOptions) {
    this.#hashes = hashes;
    this.#options = options;
  }

  static async open(options: FileHasherOptions): Promise<FileHasher> {
    return new FileHasher(await runningHashes(options.useNative), options);
  }

  readonly digest = (format: HashFormat, bytes: Uint8Array): string => {
    const hash = this.#hashes[format];
    hash.start();
    hash.add(bytes);
    return hash.end();
  };

  async hashFile(path: string, formats: readonly HashFormat[], signal: AbortSignal, advance: (bytes: number) => void): Promise<HashedFile> {
    signal.throwIfAborted();
    try {
      const { size } = await lstat(path);
      if (size > PIECE_BYTES) return await this.#onThread(path, formats, signal, advance);
      const hashed = readThrough(path, formats, { hashes: this.#hashes, buffer: this.#buffer, advance, isStopped: () => signal.aborted });
      if (hashed !== undefined) return hashed;
    } catch (failure) {
      signal.throwIfAborted();
      throw this.#options.explain(failure);
    }
    throw signal.reason;
  }

  async #onThread(path: string, formats: readonly HashFormat[], signal: AbortSignal, advance: (bytes: number) => void): Promise<HashedFile> {
    // Whoever ends hands its turn to the next in the queue, so nobody can slip in between.
    if (this.#busy < this.filesAtOnce) this.#busy++;
    else await new Promise<void>((resolve) => this.#waiting.push(resolve));
    const thread = this.#idle.pop() ?? new HashThread(this.#options.useNative ?? true);
    this.#all.add(thread);
    try {
      const hashed = await thread.hash(path, formats, signal, advance);
      this.#idle.push(thread);
      return hashed;
    } catch (failure) {
      this.#all.delete(thread);
      await thread.end();
      throw failure;
    } finally {
      const next = this.#waiting.shift();
      if (next === undefined) this.#busy--;
      else next();
    }
  }

  async [Symbol.asyncDispose](): Promise<void> {
    await Promise.all([...this.#all].map(async (thread) => thread.end()));
    this.#all.clear();
    this.#idle.length = 0;
  }
}

/** One thread, one file at a time. */
class HashThread {
  readonly #stop = new Int32Array(new SharedArrayBuffer(4));
  readonly #worker: Worker;

  constructor(useNative: boolean) {
    const setUp: ThreadSetUp = { stop: this.#stop, useNative };
    // The sources run as they are, the package as JavaScript.
    const file = import.meta.url.endsWith('.ts') ? './hash-thread.ts' : './hash-thread.js';
    this.#worker = new Worker(new URL(file, import.meta.url), { workerData: setUp });
    this.#worker.unref();
  }

  async hash(path: string, formats: readonly HashFormat[], signal: AbortSignal, advance: (bytes: number) => void): Promise<HashedFile> {
    signal.throwIfAborted();
    const stop = (): void => void Atomics.store(this.#stop, 0, 1);
    signal.addEventListener('abort', stop, { once: true });
    this.#worker.ref();
    try {
      return await new Promise<HashedFile>((resolve, reject) => {
        this.#worker.removeAllListeners();
        this.#worker.once('error', reject);
        this.#worker.once('exit', (code) => reject(new Error(`a hashing thread ended (${code}) in the midst of ${path}`)));
        this.#worker.on('message', (answer: HashAnswer) => {
          if (answer.kind === 'read') advance(answer.bytes);
          else if (answer.kind === 'hashed') resolve(answer.hashed);
          else if (answer.kind === 'stopped') reject(signal.reason);
          else reject(answer.code === undefined ? new Error(answer.message) : Object.assign(new Error(answer.message), { code: answer.code }));
        });
        this.#worker.postMessage({ path, formats });
      });
    } finally {
      signal.removeEventListener('abort', stop);
      this.#worker.unref();
    }
  }

  async end(): Promise<void> {
    this.#worker.removeAllListeners();
    await this.#worker.terminate();
  }
}
