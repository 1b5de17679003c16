import { Worker } from 'node:worker_threads';
import type { HashFormat } from '../../formats/mhl/hash-format.ts';
import type { HashedFile } from '../../ports.ts';
import type { HashAnswer, ThreadSetUp } from './hash-messages.ts';

interface Order {
  readonly advance: (bytes: number) => void;
  readonly resolve: (hashed: HashedFile) => void;
  readonly reject: (reason: unknown) => void;
  readonly signal: AbortSignal;
}

/** A thread that hashes one file at a time, beside the one that started it. */
export class HashingThread {
  readonly #stop = new Int32Array(new SharedArrayBuffer(4));
  readonly #worker: Worker;
  #order: Order | undefined;
  #failure: Error | undefined;

  constructor(useNative: boolean) {
    const setUp: ThreadSetUp = { stop: this.#stop, useNative };
    // The sources run as they are, the package as JavaScript.
    const file = import.meta.url.endsWith('.ts') ? './hash-thread.ts' : './hash-thread.js';
    this.#worker = new Worker(new URL(file, import.meta.url), { workerData: setUp });
    this.#worker.on('message', (answer: HashAnswer) => this.#hear(answer));
    this.#worker.on('error', (failure) => this.#fail(failure instanceof Error ? failure : new Error(String(failure))));
    this.#worker.on('exit', (code) => this.#fail(new Error(`a hashing thread ended with ${code}`)));
    // Only an order keeps the process alive.
    this.#worker.unref();
  }

  async hash(path: string, formats: readonly HashFormat[], signal: AbortSignal, advance: (bytes: number) => void): Promise<HashedFile> {
    signal.throwIfAborted();
    if (this.#failure !== undefined) throw this.#failure;
    Atomics.store(this.#stop, 0, 0);
    const stop = (): void => void Atomics.store(this.#stop, 0, 1);
    signal.addEventListener('abort', stop, { once: true });
    this.#worker.ref();
    try {
      return await new Promise<HashedFile>((resolve, reject) => {
        this.#order = { advance, resolve, reject, signal };
        this.#worker.postMessage({ path, formats });
      });
    } finally {
      this.#order = undefined;
      signal.removeEventListener('abort', stop);
      this.#worker.unref();
    }
  }

  #hear(answer: HashAnswer): void {
    const order = this.#order;
    if (answer.kind === 'read') order?.advance(answer.bytes);
    else if (answer.kind === 'hashed') order?.resolve(answer.hashed);
    else if (answer.kind === 'stopped') order?.reject(order.signal.reason);
    else order?.reject(answer.code === undefined ? new Error(answer.message) : Object.assign(new Error(answer.message), { code: answer.code }));
  }

  #fail(failure: Error): void {
    this.#failure ??= failure;
    this.#order?.reject(failure);
  }

  async end(): Promise<void> {
    await this.#worker.terminate();
  }
}
