import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { ExifTool, exiftoolPath } from 'exiftool-vendored';
import type { TagReader } from '../../ports.ts';

/** `-fast`: no search for trailers. `-n`: numbers as stored. `-G1`: each tag under the group it stands in. */
const READ_ARGS = ['-fast', '-n', '-G1'];
const TIMEOUT_MS = 20_000;
/** More than the machine's two cores bring nothing (measured on two cores). */
const PROCESSES = 2;

type Tags = Readonly<Record<string, unknown>>;

/** Asks ExifTool, which is started at the first question and kept open until `close`. */
export class ExiftoolTagReader implements TagReader {
  #exiftool: ExifTool | undefined;

  /** @throws {Error} when ExifTool cannot open the file or takes longer than the limit. A file it cannot make sense of is no error. */
  async tags(path: string, signal: AbortSignal): Promise<Tags> {
    signal.throwIfAborted();
    // ExifTool takes its questions line by line; a name with a line break in it goes to a process of its own.
    return unlessAborted(/[\r\n]/.test(path) ? readAlone(path, signal) : this.#ask(path), signal);
  }

  /** ExifTool's version, for `gemel doctor`. */
  async version(): Promise<string> {
    return this.#open().version();
  }

  async close(): Promise<void> {
    const exiftool = this.#exiftool;
    this.#exiftool = undefined;
    await exiftool?.end();
  }

  async [Symbol.asyncDispose](): Promise<void> {
    await this.close();
  }

  async #ask(path: string): Promise<Tags> {
    return { ...(await this.#open().readRaw(path, { readArgs: READ_ARGS })) };
  }

  #open(): ExifTool {
    this.#exiftool ??= new ExifTool({ maxProcs: PROCESSES, taskTimeoutMillis: TIMEOUT_MS, useMWG: false });
    return this.#exiftool;
  }
}

async function readAlone(path: string, signal: AbortSignal): Promise<Tags> {
  const options = { timeout: TIMEOUT_MS, killSignal: 'SIGKILL', maxBuffer: 16 * 1024 * 1024, signal } as const;
  const { stdout } = await promisify(execFile)(await exiftoolPath(), ['-json', ...READ_ARGS, '--', path], options);
  const answers: unknown = JSON.parse(stdout);
  const [tags]: unknown[] = Array.isArray(answers) ? answers : [];
  if (typeof tags !== 'object' || tags === null) throw new Error('ExifTool gave no answer');
  return Object.fromEntries(Object.entries(tags));
}

async function unlessAborted<T>(answer: Promise<T>, signal: AbortSignal): Promise<T> {
  return new Promise((resolve, reject) => {
    const abort = (): void => reject(signal.reason);
    signal.addEventListener('abort', abort, { once: true });
    answer.then(resolve, reject).finally(() => signal.removeEventListener('abort', abort));
  });
}
