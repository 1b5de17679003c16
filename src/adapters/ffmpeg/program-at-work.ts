import type { ChildProcess, StdioOptions } from 'node:child_process';
import { spawn } from 'node:child_process';
import { stallWatch } from './stall-watch.ts';

const STDERR_CHARS = 4000;

/** How a program ended: its code, the last of what it said, and whether it was stopped for its silence. */
export interface ProgramEnd {
  readonly code: number | null;
  readonly said: string;
  readonly stalled: boolean;
}

/** Pipes a program writes to; standard error is always among them. */
export interface WorkLimits {
  readonly stdio: StdioOptions;
  /** A program that is silent for so long is stopped: call `alive` for each sign of work. */
  readonly stallMs: number;
  readonly signal: AbortSignal;
}

/** A program whose output is taken while it works; disposed of, it has ended, by force if need be. */
export class ProgramAtWork implements AsyncDisposable {
  readonly child: ChildProcess;
  readonly #signal: AbortSignal;
  readonly #closed: Promise<number | null>;
  readonly #watch: ReturnType<typeof stallWatch>;
  readonly #stop = (): void => void this.child.kill('SIGKILL');
  #said = '';
  #hasEnded = false;

  /** @throws what the signal says, when it has fired already. */
  constructor(program: string, args: readonly string[], { stdio, stallMs, signal }: WorkLimits) {
    signal.throwIfAborted();
    this.#signal = signal;
    this.child = spawn(program, [...args], { stdio, windowsHide: true });
    this.#closed = new Promise((resolve, reject) => {
      this.child.once('error', reject);
      this.child.once('close', resolve);
    });
    // Heard by whoever asks for the end; until then it must not count as unhandled.
    void this.over().then(() => { this.#hasEnded = true; });
    signal.addEventListener('abort', this.#stop, { once: true });
    this.#watch = stallWatch(stallMs, this.#stop);
    this.child.stderr?.setEncoding('utf8').on('data', (text: string) => { this.#said = (this.#said + text).slice(-STDERR_CHARS); });
  }

  get hasEnded(): boolean {
    return this.#hasEnded;
  }

  readonly alive = (): void => this.#watch.alive();

  /** Resolves when the program has ended, well or not. */
  async over(): Promise<void> {
    await this.#closed.catch(() => {});
  }

  /** Waits for its end. @throws {Error} when it did not start, or the signal fired. */
  async end(): Promise<ProgramEnd> {
    const code = await this.#closed;
    this.#signal.throwIfAborted();
    return { code, said: this.#said, stalled: this.#watch.stalled() };
  }

  async [Symbol.asyncDispose](): Promise<void> {
    this.#watch.end();
    this.#signal.removeEventListener('abort', this.#stop);
    this.#stop();
    await this.over();
  }
}
