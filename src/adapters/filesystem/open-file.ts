import { constants } from 'node:fs';
import type { FileHandle } from 'node:fs/promises';
import { open } from 'node:fs/promises';
import type { OpenFile } from '../../ports.ts';
import { explainFailure } from './explain-failure.ts';

/** Reading only. A pipe that took the file's place must not hang us, nor a link lead us elsewhere (both are 0 where unknown). */
const FLAGS = constants.O_RDONLY | (constants.O_NONBLOCK ?? 0) | (constants.O_NOFOLLOW ?? 0);

/**
 * Opens a file for reading and holds it open until `close`.
 * @throws {UnreachableFileError} when the system refuses, or when it is no ordinary file.
 */
export async function openFile(path: string, signal: AbortSignal): Promise<OpenFile> {
  signal.throwIfAborted();
  let handle: FileHandle | undefined;
  try {
    handle = await open(path, FLAGS);
    const facts = await handle.stat();
    if (!facts.isFile()) throw Object.assign(new Error('not an ordinary file'), { code: 'ENXIO' });
    return new HeldFile(handle, facts.size, facts.mtimeMs, signal);
  } catch (failure) {
    await handle?.close();
    throw explainFailure(failure);
  }
}

class HeldFile implements OpenFile {
  readonly size: number;
  readonly modifiedMs: number;
  readonly #handle: FileHandle;
  readonly #signal: AbortSignal;

  constructor(handle: FileHandle, size: number, modifiedMs: number, signal: AbortSignal) {
    this.#handle = handle;
    this.size = size;
    this.modifiedMs = modifiedMs;
    this.#signal = signal;
  }

  async read(offset: number, length: number): Promise<Uint8Array> {
    this.#signal.throwIfAborted();
    const wanted = Math.max(0, Math.min(length, this.size - offset));
    const bytes = new Uint8Array(wanted);
    let filled = 0;
    try {
      while (filled < wanted) {
        const { bytesRead } = await this.#handle.read(bytes, filled, wanted - filled, offset + filled);
        if (bytesRead === 0) break;
        filled += bytesRead;
      }
    } catch (failure) {
      throw explainFailure(failure);
    }
    return filled === wanted ? bytes : bytes.subarray(0, filled);
  }

  async hasChanged(): Promise<boolean> {
    const now = await this.#handle.stat();
    return now.size !== this.size || now.mtimeMs !== this.modifiedMs;
  }

  async close(): Promise<void> {
    await this.#handle.close();
  }
}
