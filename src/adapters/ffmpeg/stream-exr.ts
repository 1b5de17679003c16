import { exrLength } from '../../formats/media/stamp-exr.ts';
import { ProgramAtWork } from './program-at-work.ts';
import { LONGEST_SILENCE_MS, stalledError } from './stall-watch.ts';

/** Pictures handed on and not yet written: the decoder goes on meanwhile, and memory stays bounded. */
const IN_HAND = 4;

/**
 * Runs a program that writes EXR pictures one after the other to its output and hands each on, in order, as it is whole; its bytes
 * may be used until `take` has ended. Answers what the program said. @throws {Error} when it does not start or fails, it is silent for `stallMs`, `take` throws, or the signal fires; the program has ended then.
 */
export async function streamExr(program: string, args: readonly string[], take: (index: number, picture: Uint8Array) => Promise<void>, signal: AbortSignal, stallMs = LONGEST_SILENCE_MS): Promise<{ readonly pictures: number; readonly said: string; readonly code: number | null }> {
  await using work = new ProgramAtWork(program, args, { stdio: ['ignore', 'pipe', 'pipe'], stallMs, signal });
  const waiting: Promise<void>[] = [];
  const idle: Buffer[] = [];
  let pictures = 0;
  try {
    for await (const { bytes, buffer } of splitPictures(work.child.stdout ?? [], idle)) {
      const taken = take(pictures++, bytes).then(() => void idle.push(buffer));
      // Heard when its turn comes; until then it must not count as unhandled.
      taken.catch(() => {});
      waiting.push(taken);
      if (waiting.length >= IN_HAND) await waiting.shift();
      work.alive();
    }
    await Promise.all(waiting);
    const { code, said, stalled } = await work.end();
    if (stalled) throw stalledError(stallMs);
    return { pictures, said, code };
  } finally {
    await Promise.allSettled(waiting);
  }
}

/** A picture and the buffer it stands in, which is used again once whoever holds it has let go. */
interface HeldPicture {
  readonly bytes: Uint8Array;
  readonly buffer: Buffer;
}

/**
 * Whole pictures out of pieces of a stream; a last one that is cut off is left out. Buffers come from `idle` and go back there:
 * fresh ones of this size cost more than everything else here (measured with Node 24: 100 ms for 8 MB, against 2 ms to fill one).
 */
async function* splitPictures(pieces: AsyncIterable<Buffer> | Iterable<Buffer>, idle: Buffer[]): AsyncGenerator<HeldPicture> {
  let buffer = idle.pop() ?? Buffer.alloc(FIRST_BYTES);
  let used = 0;
  let length: number | undefined;
  for await (const piece of pieces) {
    let rest = piece;
    while (rest.length > 0) {
      const wanted = length === undefined ? rest.length : Math.min(rest.length, length - used);
      buffer = roomFor(buffer, used, Math.max(used + wanted, length ?? 0));
      used += rest.copy(buffer, used, 0, wanted);
      rest = rest.subarray(wanted);
      length ??= exrLength(buffer.subarray(0, used));
      while (length !== undefined && used >= length) {
        const next = roomFor(idle.pop() ?? Buffer.alloc(buffer.length), 0, used - length);
        // What came after the picture begins the next one.
        const over = buffer.copy(next, 0, length, used);
        yield { bytes: buffer.subarray(0, length), buffer };
        [buffer, used, length] = [next, over, over === 0 ? undefined : exrLength(next.subarray(0, over))];
      }
    }
  }
}

const FIRST_BYTES = 1 << 20;

/** The same buffer, or a larger one with what was used of it. */
function roomFor(buffer: Buffer, used: number, wanted: number): Buffer {
  if (wanted <= buffer.length) return buffer;
  const larger = Buffer.alloc(Math.max(wanted, 2 * buffer.length));
  buffer.copy(larger, 0, 0, used);
  return larger;
}
