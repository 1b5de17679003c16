import { basename, dirname } from 'node:path';
import { ExiftoolTagReader } from '../../adapters/exiftool/exiftool-tag-reader.ts';
import { FfprobeClipProbe } from '../../adapters/ffmpeg/ffprobe-clip-probe.ts';
import { DiskStore } from '../../adapters/filesystem/disk-store.ts';
import { formatTagged, parseTagged } from '../../formats/catalogue/tagged-json.ts';
import type { Field } from '../../core/material/statement.ts';
import type { Catalogue, FoundFile, JobHands } from '../../ports.ts';
import { signatureOf } from '../../steps/read/content-name.ts';
import { readClip } from '../../steps/read/read-clip.ts';
import type { ReadMemory } from '../../steps/read/read-options.ts';
import { readersOf } from '../../steps/read/readers.ts';
import { READING } from '../../steps/read/remember-clips.ts';
import { isRecent } from '../../steps/read/settle.ts';
import type { FoundSequence } from '../../steps/read/sort-files.ts';
import { sortFiles } from '../../steps/read/sort-files.ts';
import { gemelVersion } from '../assets.ts';
import { systemClock } from '../system-clock.ts';
import { locate } from '../tools.ts';
import type { FarmHands } from './farm-hands.ts';
import type { Mounts, SharedPath } from './mounts.ts';
import { fromShared, toShared } from './mounts.ts';

/** What decides besides the file how a clip is read; a worker that would read otherwise must not. */
export interface ReadingTerms {
  readonly headings: Readonly<Record<string, Field>>;
  readonly settleSeconds: number;
  readonly ffprobe: 'found' | 'missing';
}

interface ReadWork extends ReadingTerms {
  readonly version: string;
  readonly key: string;
  readonly file: string;
  /** The movie, or any picture of the sequence. */
  readonly at: SharedPath;
  readonly signature: string;
}

/** Has clips read by the workers of a farm. */
export function readOnFarm({ farm, mounts }: FarmHands, terms: ReadingTerms, signal: AbortSignal): NonNullable<ReadMemory['elsewhere']> {
  return async (clips, onDone) => {
    const jobs = clips.flatMap(({ found, signature, key }) => {
      const path = 'frames' in found ? found.frames[0]?.found.path : found.path;
      if (path === undefined) return [];
      const work: ReadWork = { ...terms, version: gemelVersion(), key, file: found.file, at: toShared(path, mounts), signature };
      return [{ key, work: JSON.stringify(work) }];
    });
    await farm.have('read', jobs, signal, onDone);
  };
}

/** A worker that reads clips and keeps what it read. Close it when it is no longer needed. */
export function readingHands(catalogue: Catalogue, mounts: Mounts, atOnce: number): JobHands & { close(): Promise<void> } {
  const tags = new ExiftoolTagReader();
  return {
    atOnce,
    work: async (text, signal) => doReadWork(asReadWork(parseTagged(text)), { catalogue, mounts, tags }, signal),
    close: async () => tags.close(),
  };
}

interface Bench {
  readonly catalogue: Catalogue;
  readonly mounts: Mounts;
  readonly tags: ExiftoolTagReader;
}

async function doReadWork(work: ReadWork, { catalogue, mounts, tags }: Bench, signal: AbortSignal): Promise<void> {
  const ffprobe = await locate('ffprobe');
  if (work.version !== gemelVersion()) throw new Error(`the job is of gemel ${work.version}, this worker of ${gemelVersion()}: bring all machines to one version`);
  if (work.ffprobe !== ffprobe.kind) throw new Error('ffprobe is there on one machine and not on the other: they would read clips differently');
  const path = fromShared(work.at, mounts);
  const store = new DiskStore([dirname(path)]);
  const found = await findAgain(work, path, store, signal);
  if (found === undefined || signatureOf(found) !== work.signature) throw new Error(`${work.file} is not as it was found: it changed, or the machines see different files`);
  const readers = readersOf({ store, probe: ffprobe.kind === 'found' ? new FfprobeClipProbe(ffprobe.path) : undefined, tags }, work);
  const reading = await readClip(found, readers, signal);
  if (reading.changed || reading.doubtful.some((file) => isRecent(file, systemClock, work))) throw new Error(`${work.file} may still be growing`);
  await catalogue.keep(READING, new Map([[work.key, formatTagged(reading.clip)]]));
}

/** The movie or sequence as it lies here, under the name it has in the day. */
async function findAgain({ file }: ReadWork, path: string, store: DiskStore, signal: AbortSignal): Promise<FoundFile | FoundSequence | undefined> {
  const { files } = await store.list(signal);
  const { movies, sequences } = sortFiles(files.filter((found) => !found.file.includes('/')));
  const movie = movies.find((found) => found.path === path);
  if (movie !== undefined) return { ...movie, file };
  const sequence = sequences.find(({ frames }) => frames.some(({ found }) => basename(found.path) === basename(path)));
  return sequence === undefined ? undefined : { ...sequence, file };
}

function asReadWork(value: unknown): ReadWork {
  const isWork = typeof value === 'object' && value !== null && 'key' in value && 'file' in value && 'at' in value && 'signature' in value && 'headings' in value;
  if (!isWork) throw new Error('this is no reading job');
  return value as ReadWork;
}
