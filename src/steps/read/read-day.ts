import type { ReadDay } from '../../core/material/day.ts';
import type { FoundFile } from '../../ports.ts';
import { mapBounded } from './bounded.ts';
import type { ClipReading } from './clip-reading.ts';
import { markCopies } from './find-copies.ts';
import { noteLookAlikes } from './look-alikes.ts';
import { unreachableProblems, unusedNote } from './passed-over.ts';
import { readClip, sizeOf } from './read-clip.ts';
import { readNotes } from './read-notes.ts';
import type { ReadOptions, ReadPorts } from './read-options.ts';
import { readersOf } from './readers.ts';
import { tellGrowing } from './settle.ts';
import type { FoundSequence } from './sort-files.ts';
import { sortFiles } from './sort-files.ts';

/** Headers are a few small reads each: waiting for the disk or the share is most of it. */
const CLIPS_AT_ONCE = 8;

/**
 * Reads everything in the media folders: clips, sequences, and what reports and sidecars say of them. Nothing is decided, nothing
 * is written, and no file can end the day: what is wrong with one becomes a problem with its name. The answer is the same
 * whatever the order in which the store lists or the disk answers. Only the signal throws.
 */
export async function readDay(ports: ReadPorts, options: ReadOptions, signal: AbortSignal): Promise<ReadDay> {
  const { files, unreachable } = await ports.store.list(signal);
  const sorted = sortFiles(files);
  const found: readonly (FoundFile | FoundSequence)[] = [...sorted.movies, ...sorted.sequences].toSorted((a, b) => (a.file < b.file ? -1 : 1));
  const readings = await readClips(found, ports, options, signal);
  const settled = await tellGrowing(readings, ports, options, signal);
  const clips = noteLookAlikes((await markCopies(settled, ports, signal)).map(({ clip }) => clip));
  const { notes, shots, marks, problems } = await readNotes(sorted, ports, options, signal);
  return { clips, notes, shots, marks, problems: [...unreachableProblems(unreachable), ...problems, ...unusedNote(sorted.unused)] };
}

async function readClips(found: readonly (FoundFile | FoundSequence)[], ports: ReadPorts, options: ReadOptions, signal: AbortSignal): Promise<readonly ClipReading[]> {
  const readers = readersOf(ports, options);
  const bytes = found.reduce((sum, each) => sum + sizeOf(each), 0);
  ports.progress.start('reading', found.length, bytes);
  try {
    return await mapBounded(found, CLIPS_AT_ONCE, async (each) => {
      const reading = await readClip(each, readers, signal);
      ports.progress.advance(1, sizeOf(each));
      return reading;
    });
  } finally {
    ports.progress.done();
  }
}
