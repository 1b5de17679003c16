import type { ReadClip } from '../../core/material/clip.ts';
import { nameStatements } from '../../formats/media/camera-name.ts';
import { formatTagged, parseTagged } from '../../formats/catalogue/tagged-json.ts';
import type { FoundFile, Progress, SeenPlace } from '../../ports.ts';
import { mapBounded } from './bounded.ts';
import type { ClipReading } from './clip-reading.ts';
import { contentName, signatureOf } from './content-name.ts';
import type { ClipElsewhere, ReadMemory, ReadPorts } from './read-options.ts';
import type { FoundSequence } from './sort-files.ts';

/** A clip found in the folders: what it looks like there, and what its content is called once that is known. */
type Found = FoundFile | FoundSequence;

/** Under this the catalogue keeps readings. */
export const READING = 'reading';
const LOOKS_AT_ONCE = 8;

/** What is known of clips from an earlier run, and a way to add to it. */
export interface RememberedClips {
  readonly recalled: ReadonlyMap<Found, ClipReading>;
  /** Keeps new readings of clips that have come to rest. */
  keep(readings: readonly { readonly found: Found; readonly reading: ClipReading }[], isResting: (reading: ClipReading) => boolean): Promise<void>;
}

/**
 * Recalls the readings of clips that did not change since they were read: by place, size and time of change, or, for a clip that
 * was moved or renamed, by its content and time of change. Clips that cannot be opened are left to the readers, which say why.
 */
export async function rememberClips(found: readonly Found[], memory: ReadMemory, { store, progress }: Pick<ReadPorts, 'store' | 'progress'>, signal: AbortSignal): Promise<RememberedClips> {
  const { catalogue, readers } = memory;
  const before = await catalogue.places();
  const seen = new Map<Found, SeenPlace>();
  const nameContent = async (each: Found): Promise<void> => {
    const signature = signatureOf(each);
    const place = before.get(each.file);
    const content = place?.signature === signature && place.content !== undefined ? place.content : await contentName(each, store, signal).catch(() => undefined);
    signal.throwIfAborted();
    seen.set(each, { file: each.file, signature, content });
  };
  await mapBounded(found, LOOKS_AT_ONCE, nameContent);
  const keyOf = (each: Found): string | undefined => {
    const content = seen.get(each)?.content;
    return content === undefined ? undefined : `${readers} ${content} ${modifiedOf(each)}`;
  };
  const keys = found.flatMap((each) => keyOf(each) ?? []);
  const known = await catalogue.find(READING, keys);
  const unread = found.flatMap((each) => {
    const key = keyOf(each);
    return key === undefined || known.has(key) ? [] : [{ found: each, signature: signatureOf(each), key }];
  });
  const kept = (await readElsewhere(unread, memory, progress)) ? await catalogue.find(READING, keys) : known;
  const recalled = new Map<Found, ClipReading>();
  for (const each of found) {
    const text = kept.get(keyOf(each) ?? '');
    const clip = text === undefined ? undefined : asReadClip(parseTagged(text));
    if (clip !== undefined) recalled.set(each, recall(each, clip));
  }
  const changed = [...seen.values()].filter(({ file, signature, content }) => before.get(file)?.signature !== signature || before.get(file)?.content !== content);
  const here = new Set(found.map(({ file }) => file));
  await catalogue.notePlaces(changed, [...before.keys()].filter((file) => !here.has(file)));
  return {
    recalled,
    keep: async (readings, isResting) => {
      const resting = readings.filter(({ found: each, reading }) => !recalled.has(each) && !reading.changed && isResting(reading));
      const entries = resting.map(({ found: each, reading }) => [keyOf(each), formatTagged(reading.clip)] as const);
      await catalogue.keep(READING, new Map(entries.flatMap(([key, text]) => (key === undefined ? [] : [[key, text]]))));
    },
  };
}

/** Whether anybody elsewhere was asked. */
async function readElsewhere(clips: readonly ClipElsewhere[], { elsewhere }: ReadMemory, progress: Progress): Promise<boolean> {
  if (elsewhere === undefined || clips.length === 0) return false;
  progress.start('reading on the farm', clips.length, 0);
  try {
    await elsewhere(clips, (done) => progress.advance(done, 0));
  } finally {
    progress.done();
  }
  return true;
}

/** A reading as it was, at the place where the clip lies now. It has come to rest, so nothing of it is in doubt. */
function recall(found: Found, clip: ReadClip): ClipReading {
  const ends = 'frames' in found ? [found.frames[0]?.found, found.frames.at(-1)?.found].filter((end) => end !== undefined) : [found];
  return { clip: clip.file === found.file ? clip : readdressed(clip, found.file), ends, doubtful: [], changed: false };
}

/** The same clip under another name: what its content says stays, what its name says is read anew. */
function readdressed(clip: ReadClip, file: string): ReadClip {
  const ofContent = clip.statements
    .filter(({ source }) => source.kind !== 'name')
    .map((statement) => (statement.source.file === clip.file ? { ...statement, source: { ...statement.source, file } } : statement));
  return {
    ...clip,
    file,
    statements: [...ofContent, ...nameStatements(file)],
    problems: clip.problems.map((problem) => (problem.file === clip.file ? { ...problem, file } : problem)),
  };
}

function modifiedOf(found: Found): number {
  return 'frames' in found ? found.frames.reduce((latest, { found: { modifiedMs } }) => Math.max(latest, modifiedMs), 0) : found.modifiedMs;
}

/** Only gemel writes these texts; one that does not even look like a clip is not used. */
function asReadClip(value: unknown): ReadClip | undefined {
  const isClip = typeof value === 'object' && value !== null && 'file' in value && 'statements' in value && Array.isArray(value.statements) && 'problems' in value;
  return isClip ? (value as ReadClip) : undefined;
}
