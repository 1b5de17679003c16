import { once } from 'node:events';
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { PictureMeter, PictureOrder } from '../../ports.ts';
import type { ProxyTools } from './decode-proxies.ts';
import type { OrderAnswer } from './measure-orders.ts';
import type { ThreadAnswer, ThreadOrder } from './picture-thread.ts';

/** More than these ask more of memory and disks than they give. */
const MOST_AT_ONCE = 4;

/** Measures pictures on threads, a set on each. Threads start when there is work and end with `await using`. */
export class PictureThreads implements PictureMeter, AsyncDisposable {
  readonly atOnce: number;
  readonly #tools: ProxyTools;
  readonly #idle: Worker[] = [];
  readonly #all = new Set<Worker>();

  constructor(tools: ProxyTools, atOnce = Math.min(MOST_AT_ONCE, availableParallelism())) {
    this.#tools = tools;
    this.atOnce = atOnce;
  }

  /** No more than `atOnce` at a time. @throws {Error} when the thread fails or the signal fires; its programs have been told to end then. */
  async measure(orders: readonly PictureOrder[], signal: AbortSignal): Promise<readonly OrderAnswer[]> {
    signal.throwIfAborted();
    const worker = this.#idle.pop() ?? this.#start();
    const answer = await ask(worker, orders, signal).catch((failure: unknown) => {
      this.#all.delete(worker);
      void worker.terminate();
      throw failure;
    });
    this.#idle.push(worker);
    signal.throwIfAborted();
    if (answer.kind === 'failed') throw new Error(`pictures could not be measured: ${answer.message}`);
    return answer.answers;
  }

  #start(): Worker {
    // The sources run as they are, the package as JavaScript.
    const file = import.meta.url.endsWith('.ts') ? './picture-thread.ts' : './picture-thread.js';
    const worker = new Worker(new URL(file, import.meta.url), { workerData: this.#tools });
    this.#all.add(worker);
    return worker;
  }

  async [Symbol.asyncDispose](): Promise<void> {
    await Promise.all([...this.#all].map(async (worker) => worker.terminate()));
    this.#all.clear();
    this.#idle.length = 0;
  }
}

async function ask(worker: Worker, orders: readonly PictureOrder[], signal: AbortSignal): Promise<ThreadAnswer> {
  const tell = (order: ThreadOrder): void => worker.postMessage(order);
  const stop = (): void => tell({ kind: 'stop' });
  signal.addEventListener('abort', stop, { once: true });
  const settled = new AbortController();
  try {
    const exit = once(worker, 'exit', { signal: settled.signal }).then(([code]) => { throw new Error(`a picture thread ended with ${String(code)}`); });
    exit.catch(() => {});
    const message = once(worker, 'message', { signal: settled.signal });
    tell({ kind: 'measure', orders });
    const [answer] = await Promise.race([message, exit]);
    return answer as ThreadAnswer; // picture-thread.ts sends nothing else
  } finally {
    settled.abort();
    signal.removeEventListener('abort', stop);
  }
}
