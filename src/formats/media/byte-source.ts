import { MalformedError } from './bytes.ts';

/** Something bytes can be read from piecemeal. `read` gives fewer bytes than asked for only at the end. */
export interface ByteSource {
  readonly size: number;
  read(offset: number, length: number): Promise<Uint8Array>;
}

/** A source over bytes already in memory. */
export function sourceOf(bytes: Uint8Array): ByteSource {
  return { size: bytes.length, read: (offset, length) => Promise.resolve(bytes.subarray(offset, offset + length)) };
}

/** How much of a file a header reader may ask for in all before it gives up: beyond what any sane header needs. */
export const READ_BUDGET_BYTES = 16 * 1024 * 1024;
const WINDOW_BYTES = 16 * 1024;

/**
 * A source with a window over the bytes read last, so that many small looks cost few reads.
 * Length fields are never trusted: no look goes past the end, and all looks together stay inside the budget.
 */
export interface Reader {
  readonly size: number;
  /** `length` bytes, moving the window there. @throws {MalformedError} past the end of the file or beyond the budget. */
  look(offset: number, length: number): Promise<Uint8Array>;
  /** The same for a few bytes far away: the window stays where it is. */
  peek(offset: number, length: number): Promise<Uint8Array>;
  /** Moves the window over up to `length` bytes from `offset`, so that what follows needs no further read. */
  preload(offset: number, length: number): Promise<void>;
}

/** A windowed reader over a source. `budgetBytes` bounds everything it will ever read. */
export function readerOf(source: ByteSource, budgetBytes = READ_BUDGET_BYTES): Reader {
  let windowStart = 0;
  let window: Uint8Array = new Uint8Array(0);
  let spent = 0;

  const fetch = async (offset: number, length: number): Promise<Uint8Array> => {
    spent += length;
    if (spent > budgetBytes) throw new MalformedError(`byte ${offset}`, 'more header than any camera writes', `at most ${budgetBytes} bytes`);
    const bytes = await source.read(offset, length);
    if (bytes.length < length) throw new MalformedError(`byte ${offset}`, `${bytes.length} bytes before the end`, `${length} bytes`);
    return bytes.length === length ? bytes : bytes.subarray(0, length);
  };
  const inWindow = (offset: number, length: number): Uint8Array | undefined => {
    const from = offset - windowStart;
    return from >= 0 && from + length <= window.length ? window.subarray(from, from + length) : undefined;
  };
  const assertInFile = (offset: number, length: number): void => {
    if (offset < 0 || length < 0 || !(offset + length <= source.size)) {
      throw new MalformedError(`byte ${offset}`, `${length} bytes that lie beyond the end of the file (${source.size})`, 'bytes inside the file');
    }
  };
  const preload = async (offset: number, length: number): Promise<void> => {
    const wanted = Math.min(length, source.size - offset);
    if (wanted <= 0 || inWindow(offset, wanted) !== undefined) return;
    window = await fetch(offset, wanted);
    windowStart = offset;
  };

  return {
    size: source.size,
    preload,
    async look(offset, length) {
      assertInFile(offset, length);
      await preload(offset, inWindow(offset, length) === undefined ? Math.max(length, WINDOW_BYTES) : length);
      return inWindow(offset, length) ?? fetch(offset, length);
    },
    async peek(offset, length) {
      assertInFile(offset, length);
      return inWindow(offset, length) ?? fetch(offset, length);
    },
  };
}
