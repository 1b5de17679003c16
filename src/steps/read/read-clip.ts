import type { FoundFile } from '../../ports.ts';
import { withinTime } from './bounded.ts';
import type { ClipReading } from './clip-reading.ts';
import { readMovie } from './read-movie.ts';
import { readSequence } from './read-sequence.ts';
import type { Readers } from './readers.ts';
import type { FoundSequence } from './sort-files.ts';
import { isRaw } from './sort-files.ts';
import { unreadableClip } from './unusable.ts';

/** Far more than any header takes; a share that has gone answers never. */
const LIMIT_MS = 60_000;

/** Reads one clip. Whatever is wrong with it becomes its problems; only the signal throws. */
export async function readClip(found: FoundFile | FoundSequence, readers: Readers, signal: AbortSignal): Promise<ClipReading> {
  try {
    return await withinTime(LIMIT_MS, signal, async (limited) =>
      'frames' in found ? readSequence(found, readers, limited) : readMovie(found, readers, limited),
    );
  } catch (failure) {
    signal.throwIfAborted();
    const kind = 'frames' in found ? 'sequence' : isRaw(found.file) ? 'header-only' : 'movie';
    return { clip: unreadableClip(found.file, kind, sizeOf(found), failure), ends: [], doubtful: [], changed: false };
  }
}

/** All bytes of a clip. */
export function sizeOf(found: FoundFile | FoundSequence): number {
  return 'frames' in found ? found.frames.reduce((sum, frame) => sum + frame.found.sizeBytes, 0) : found.sizeBytes;
}
