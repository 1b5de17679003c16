import { closeSync, mkdtempSync, openSync, readSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** Proxies of one clip in a file of their own, so that memory does not grow with the length of a take. Gone when it is closed. */
export class ProxyFile implements Disposable {
  readonly #folder: string;
  readonly #file: number;
  readonly #frameBytes: number;
  readonly #samples: Uint16Array;
  #frames = 0;

  /** @throws {Error} when the system's temporary folder takes no files. */
  constructor(frameBytes: number) {
    this.#frameBytes = frameBytes;
    this.#samples = new Uint16Array(frameBytes / 2);
    this.#folder = mkdtempSync(join(tmpdir(), 'gemel-proxies-'));
    this.#file = openSync(join(this.#folder, 'frames'), 'w+');
    // Where the system lets an open file go from its folder, nothing is left behind by a process that is killed.
    this.#sweep();
  }

  get frames(): number {
    return this.#frames;
  }

  /** @throws {Error} when the disk is full. */
  append(frame: Uint8Array): void {
    for (let at = 0; at < this.#frameBytes; ) at += writeSync(this.#file, frame, at, this.#frameBytes - at, this.#frames * this.#frameBytes + at);
    this.#frames++;
  }

  /** The samples of one frame, written over by the next call. @throws {RangeError} for a frame that is not there. */
  read(index: number): Uint16Array {
    if (!(index >= 0 && index < this.#frames)) throw new RangeError(`there is no frame ${index} of ${this.#frames}`);
    const samples = this.#samples;
    const bytes = new Uint8Array(samples.buffer);
    for (let at = 0; at < bytes.length; ) {
      const got = readSync(this.#file, bytes, at, bytes.length - at, index * this.#frameBytes + at);
      if (got === 0) throw new Error('the file of proxies was cut off');
      at += got;
    }
    return samples;
  }

  [Symbol.dispose](): void {
    closeSync(this.#file);
    this.#sweep();
  }

  #sweep(): void {
    try {
      rmSync(this.#folder, { recursive: true, force: true });
    } catch {
      // Windows keeps it until it is closed; then this is called again.
    }
  }
}
