import { basename, dirname, join } from 'node:path';
import { ExiftoolTagReader } from '../../adapters/exiftool/exiftool-tag-reader.ts';
import { FfprobeClipProbe } from '../../adapters/ffmpeg/ffprobe-clip-probe.ts';
import { DiskStore } from '../../adapters/filesystem/disk-store.ts';
import type { ReadClip } from '../../core/material/clip.ts';
import type { Field } from '../../core/material/statement.ts';
import { textDigest } from '../../formats/catalogue/digest.ts';
import { formatTagged, parseTagged } from '../../formats/catalogue/tagged-json.ts';
import type { Catalogue, FarmJob, FoundFile, JobHands } from '../../ports.ts';
import { signatureOf } from '../../steps/read/content-name.ts';
import { readClip } from '../../steps/read/read-clip.ts';
import type { ReadMemory } from '../../steps/read/read-options.ts';
import { readersOf } from '../../steps/read/readers.ts';
import { READING } from '../../steps/read/remember-clips.ts';
import { isRecent } from '../../steps/read/settle.ts';
import type { FoundSequence } from '../../steps/read/sort-files.ts';
import { gemelVersion } from '../assets.ts';
import { systemClock } from '../system-clock.ts';
import { locate } from '../tools.ts';
import { assertVersion } from './assert-version.ts';
import type { FarmHands } from './farm-hands.ts';
import { findClip } from './find-clip.ts';
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
  readonly clips: readonly ClipWork[];
}

interface ClipWork {
  readonly key: string;
  readonly file: string;
  /** The movie, or the sequence with "####" for its numbers. */
  readonly at: SharedPath;
  readonly signature: string;
}

/** A clip takes some milliseconds, and so does handing out a job: a job is of several clips, but of so few that a hundred hands find work. */
const MOST_CLIPS = 32;
const HANDS = 100;

/** Has clips read by the workers of a farm. */
export function readOnFarm({ farm, mounts }: FarmHands, terms: ReadingTerms, signal: AbortSignal): NonNullable<ReadMemory['elsewhere']> {
  return async (clips, onDone) => {
    const all = [...new Map(clips.map(({ found, signature, key }) => [key, { key, file: found.file, at: toShared(pathOf(found), mounts), signature }])).values()];
    const size = Math.min(MOST_CLIPS, Math.ceil(all.length / HANDS));
    let left = all.length;
    await farm.have('read', jobsOf(all, size, terms), signal, (jobs) => {
      const done = Math.min(left, jobs * size);
      left -= done;
      onDone(done);
    });
  };
}

function jobsOf(clips: readonly ClipWork[], size: number, terms: ReadingTerms): readonly FarmJob[] {
  return Array.from({ length: Math.ceil(clips.length / Math.max(1, size)) }, (_, part) => {
    const some = clips.slice(part * size, (part + 1) * size);
    const work: ReadWork = { ...terms, version: gemelVersion(), clips: some };
    return { key: textDigest(some.map(({ key }) => key).join('\n')), work: JSON.stringify(work) };
  });
}

function pathOf(found: FoundFile | FoundSequence): string {
  const first = 'frames' in found ? found.frames[0]?.found.path : found.path;
  return 'frames' in found ? join(dirname(first ?? ''), basename(found.file)) : found.path;
}

/** A worker that reads clips and keeps what it read; `did` hears of how many. Close it when it is no longer needed. */
export function readingHands(catalogue: Catalogue, mounts: Mounts, atOnce: number, did: (clips: number) => void): JobHands & { close(): Promise<void> } {
  const tags = new ExiftoolTagReader();
  return {
    atOnce,
    work: async (text, signal) => doReadWork(asReadWork(parseTagged(text)), { catalogue, mounts, tags, did }, signal),
    close: async () => tags.close(),
  };
}

interface Bench {
  readonly catalogue: Catalogue;
  readonly mounts: Mounts;
  readonly tags: ExiftoolTagReader;
  readonly did: (clips: number) => void;
}

/** Reads clip after clip; one that fails is left out, and in the end is why the job failed. */
async function doReadWork(work: ReadWork, { catalogue, mounts, tags, did }: Bench, signal: AbortSignal): Promise<void> {
  const ffprobe = await locate('ffprobe');
  assertVersion(work.version);
  if (work.ffprobe !== ffprobe.kind) throw new Error('ffprobe is there on one machine and not on the other: they would read clips differently');
  const probe = ffprobe.kind === 'found' ? new FfprobeClipProbe(ffprobe.path) : undefined;
  // Another try, or another watch, may have seen to some of them.
  const known = await catalogue.find(READING, work.clips.map(({ key }) => key));
  const texts = new Map<string, string>();
  const failures: string[] = [];
  for (const clip of work.clips.filter(({ key }) => !known.has(key))) {
    if (signal.aborted) break;
    try {
      texts.set(clip.key, formatTagged(await readOne(clip, work, { mounts, tags, probe }, signal)));
    } catch (failure) {
      failures.push(`${clip.file}: ${failure instanceof Error ? failure.message : String(failure)}`);
    }
  }
  await catalogue.keep(READING, texts);
  did(texts.size);
  signal.throwIfAborted();
  if (failures.length > 0) throw new Error(failures.join('; '));
}

async function readOne(clip: ClipWork, terms: ReadingTerms, { mounts, tags, probe }: Pick<Bench, 'mounts' | 'tags'> & { readonly probe: FfprobeClipProbe | undefined }, signal: AbortSignal): Promise<ReadClip> {
  const path = fromShared(clip.at, mounts);
  const found = await findClip(path, signal);
  if (found === undefined || signatureOf(found) !== clip.signature) throw new Error('it is not as it was found: it changed, or the machines see different files');
  const readers = readersOf({ store: new DiskStore([dirname(path)]), probe, tags }, terms);
  // Under the name it has in the day.
  const reading = await readClip({ ...found, file: clip.file }, readers, signal);
  if (reading.changed || reading.doubtful.some((file) => isRecent(file, systemClock, terms))) throw new Error('it may still be growing');
  return reading.clip;
}

function asReadWork(value: unknown): ReadWork {
  const isWork = typeof value === 'object' && value !== null && 'clips' in value && Array.isArray(value.clips) && 'headings' in value;
  if (!isWork) throw new Error('this is no reading job');
  return value as ReadWork;
}
