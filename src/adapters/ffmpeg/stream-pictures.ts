import { spawn } from 'node:child_process';
import type { PullFormat } from '../../formats/media/picture-length.ts';
import { pictureLength } from '../../formats/media/picture-length.ts';

/** Pictures handed on and not yet written: the decoder goes on meanwhile, and memory stays bounded. */
const IN_HAND = 4;
const STDERR_CHARS = 4000;

/**
 * Runs a program that writes pictures one after the other to its output and hands each on, in order, as it is whole. Answers
 * what it said. @throws {Error} when it does not start or fails, `take` throws, or the signal fires; the program has ended then.
 */
export async function streamPictures(program: string, args: readonly string[], format: PullFormat, take: (index: number, picture: Uint8Array) => Promise<void>, signal: AbortSignal): Promise<{ readonly pictures: number; readonly said: string; readonly code: number | null }> {
  signal.throwIfAborted();
  const child = spawn(program, [...args], { stdio: ['ignore', 'pipe', 'pipe'], windowsHide: true });
  const ended = new Promise<number | null>((resolve, reject) => {
    child.once('error', reject);
    child.once('close', resolve);
  });
  // Whoever throws first below is heard; this one must not count as unhandled meanwhile.
  ended.catch(() => {});
  const stop = (): void => void child.kill('SIGKILL');
  signal.addEventListener('abort', stop, { once: true });
  let said = '';
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    said = (said + text).slice(-STDERR_CHARS);
  });
  const waiting: Promise<void>[] = [];
  let pictures = 0;
  try {
    for await (const picture of splitPictures(child.stdout, format)) {
      const work = take(pictures++, picture);
      // Heard when its turn comes; until then it must not count as unhandled.
      work.catch(() => {});
      waiting.push(work);
      if (waiting.length >= IN_HAND) await waiting.shift();
    }
    await Promise.all(waiting);
    const code = await ended;
    signal.throwIfAborted();
    return { pictures, said, code };
  } finally {
    signal.removeEventListener('abort', stop);
    stop();
    await Promise.allSettled([...waiting, ended]);
  }
}

/** Whole pictures out of pieces of a stream; a last one that is cut off is left out. */
async function* splitPictures(pieces: AsyncIterable<Buffer>, format: PullFormat): AsyncGenerator<Uint8Array> {
  let held = Buffer.alloc(1 << 20);
  let start = 0;
  let end = 0;
  let length: number | undefined;
  for await (const piece of pieces) {
    if (end + piece.length > held.length) {
      // What was handed on may still be in use, so it is never written over.
      const roomier = Buffer.alloc(Math.max(2 * (end - start + piece.length), length ?? 0, 1 << 20));
      held.copy(roomier, 0, start, end);
      [held, start, end] = [roomier, 0, end - start];
    }
    piece.copy(held, end);
    end += piece.length;
    for (;;) {
      length ??= pictureLength(held.subarray(start, end), format);
      if (length === undefined || end - start < length) break;
      yield held.subarray(start, start + length);
      start += length;
      length = undefined;
    }
  }
}
