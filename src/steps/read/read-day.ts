import type { ReadDay } from '../../core/material/day.ts';
import type { FoundFile } from '../../ports.ts';
import { mapBounded } from './bounded.ts';
import type { ClipReading } from './clip-reading.ts';
import { markCopies } from './find-copies.ts';
import { noteLookAlikes } from './look-alikes.ts';
import { unreachableProblems, unusedNote } from './passed-over.ts';
import { readCuts } from './read-cuts.ts';
import { readClip, sizeOf } from './read-clip.ts';
import { readNotes } from './read-notes.ts';
import type { ReadOptions, ReadPorts } from './read-options.ts';
import { readTracking } from './read-tracking.ts';
import { readersOf } from './readers.ts';
import type { RememberedClips } from './remember-clips.ts';
import { rememberClips } from './remember-clips.ts';
import { isRecent, tellGrowing } from './settle.ts';
import type { FoundSequence } from './sort-files.ts';
import { sortFiles } from './sort-files.ts';

type Found = FoundFile | FoundSequence;

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
  const found: readonly Found[] = [...sorted.movies, ...sorted.sequences].toSorted((a, b) => (a.file < b.file ? -1 : 1));
  const remembered = ports.memory === undefined ? undefined : await rememberClips(found, ports.memory, ports, signal);
  const readings = await readClips(found, remembered?.recalled, ports, options, signal);
  await keepReadings(found, readings, remembered, ports, options);
  const settled = await tellGrowing(readings, ports, options, signal);
  const clips = noteLookAlikes((await markCopies(settled, ports, signal)).map(({ clip }) => clip));
  const { notes, shots, marks, problems } = await readNotes(sorted, ports, options, signal);
  const cut = await readCuts(sorted.cuts, clips, ports, options, signal);
  const tracking = await readTracking(sorted.tracking, ports, signal);
  const unused = [...sorted.unused, ...tracking.others].toSorted((a, b) => (a.file < b.file ? -1 : 1));
  return {
    clips, notes, shots, marks,
    ...(tracking.moves.length === 0 ? {} : { moves: tracking.moves }),
    ...(cut.cuts.length === 0 ? {} : { cuts: cut.cuts }),
    problems: [...unreachableProblems(unreachable), ...problems, ...cut.problems, ...tracking.problems, ...unusedNote(unused)],
  };
}

async function readClips(
  found: readonly Found[],
  recalled: RememberedClips['recalled'] | undefined,
  ports: ReadPorts,
  options: ReadOptions,
  signal: AbortSignal,
): Promise<readonly ClipReading[]> {
  const readers = readersOf(ports, options);
  const fresh = found.filter((each) => recalled?.has(each) !== true);
  ports.progress.start('reading', fresh.length, fresh.reduce((sum, each) => sum + sizeOf(each), 0));
  try {
    return await mapBounded(found, CLIPS_AT_ONCE, async (each) => {
      const known = recalled?.get(each);
      if (known !== undefined) return known;
      const reading = await readClip(each, readers, signal);
      ports.progress.advance(1, sizeOf(each));
      return reading;
    });
  } finally {
    ports.progress.done();
  }
}

/** What may still be growing is read again next time. */
async function keepReadings(found: readonly Found[], readings: readonly ClipReading[], remembered: RememberedClips | undefined, { clock }: ReadPorts, options: ReadOptions): Promise<void> {
  const pairs = found.flatMap((each, index) => {
    const reading = readings[index];
    return reading === undefined ? [] : [{ found: each, reading }];
  });
  await remembered?.keep(pairs, ({ doubtful }) => !doubtful.some((file) => isRecent(file, clock, options)));
}
