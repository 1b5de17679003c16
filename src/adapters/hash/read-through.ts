import { closeSync, constants, fstatSync, openSync, readSync } from 'node:fs';
import type { HashFormat } from '../../formats/mhl/hash-format.ts';
import type { HashedFile } from '../../ports.ts';
import type { RunningHash } from './running-hash.ts';

/** Smaller and larger pieces are both slower: measured from 16 KB to 16 MB. */
export const PIECE_BYTES = 1 << 20;

/** Reading only. A pipe that took the file's place must not hang us, nor a link lead us elsewhere (both are 0 where unknown). */
const FLAGS = constants.O_RDONLY | (constants.O_NONBLOCK ?? 0) | (constants.O_NOFOLLOW ?? 0);

/** What goes along while a file is read: the running hashes of the formats asked for, a buffer to read into, whom to tell, when to stop. */
export interface ReadThrough {
  readonly hashes: Readonly<Record<HashFormat, RunningHash>>;
  readonly buffer: Uint8Array;
  readonly advance: (bytes: number) => void;
  readonly isStopped: () => boolean;
}

/**
 * Reads a file once from first byte to last, every piece into every hash. Blocks its thread while it does; a generator, so that
 * whoever has other work can do it between pieces. Gives undefined when stopped.
 */
export function* readThrough(path: string, formats: readonly HashFormat[], { hashes, buffer, advance, isStopped }: ReadThrough): Generator<void, HashedFile | undefined> {
  const file = openSync(path, FLAGS);
  try {
    if (!fstatSync(file).isFile()) throw Object.assign(new Error('not an ordinary file'), { code: 'ENXIO' });
    const running = formats.map((format) => hashes[format]);
    for (const hash of running) hash.start();
    let sizeBytes = 0;
    for (let read = readSync(file, buffer); read > 0; read = readSync(file, buffer)) {
      const piece = read === buffer.length ? buffer : buffer.subarray(0, read);
      for (const hash of running) hash.add(piece);
      sizeBytes += read;
      advance(read);
      if (isStopped()) return undefined;
      yield;
    }
    return { sizeBytes, digests: Object.fromEntries(formats.map((format) => [format, hashes[format].end()])) };
  } finally {
    closeSync(file);
  }
}

/** The same in one go. */
export function readAtOnce(path: string, formats: readonly HashFormat[], along: ReadThrough): HashedFile | undefined {
  const reading = readThrough(path, formats, along);
  for (;;) {
    const { done, value } = reading.next();
    if (done === true) return value;
  }
}
