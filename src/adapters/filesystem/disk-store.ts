import { UnreachableFileError } from '../../core/material/errors.ts';
import type { MediaListing, MediaStore, OpenFile } from '../../ports.ts';
import { listFiles } from './list-files.ts';
import { openFile } from './open-file.ts';

/** Media on disks and shares. Opens files for reading only; `leftOut` are folders it passes over, such as the one gemel writes to. */
export class DiskStore implements MediaStore {
  readonly #folders: readonly string[];
  readonly #leftOut: readonly string[];

  constructor(folders: readonly string[], leftOut: readonly string[] = []) {
    this.#folders = folders;
    this.#leftOut = leftOut;
  }

  async list(signal: AbortSignal): Promise<MediaListing> {
    return listFiles(this.#folders, this.#leftOut, signal);
  }

  async open(path: string, signal: AbortSignal): Promise<OpenFile> {
    return openFile(path, signal);
  }

  async readBytes(path: string, start: number, length: number, signal: AbortSignal): Promise<Uint8Array> {
    const file = await openFile(path, signal);
    try {
      return await file.read(start, length);
    } finally {
      await file.close();
    }
  }

  async readWhole(path: string, maxBytes: number, signal: AbortSignal): Promise<Uint8Array> {
    const file = await openFile(path, signal);
    try {
      if (file.size > maxBytes) {
        const reason = `it holds ${file.size} bytes, more than the ${maxBytes} gemel reads of a file of this kind`;
        throw new UnreachableFileError(reason, 'check that it is what its name says');
      }
      return await file.read(0, file.size);
    } finally {
      await file.close();
    }
  }
}
