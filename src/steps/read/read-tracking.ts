import type { ReadingProblem } from '../../core/material/finding.ts';
import type { RecordedMove } from '../../core/material/tracked-move.ts';
import { TELLING_BYTES, looksLikeOpenTrackIo } from '../../formats/opentrackio/looks-like.ts';
import type { TrackingFile } from '../../formats/opentrackio/parse-opentrackio.ts';
import { parseOpenTrackIo } from '../../formats/opentrackio/parse-opentrackio.ts';
import { folderOf, stemOfSidecar } from '../../formats/sidecars/stem.ts';
import { decodeText } from '../../formats/tables/decode-text.ts';
import type { FoundFile } from '../../ports.ts';
import { mapBounded, withinTime } from './bounded.ts';
import type { ReadPorts } from './read-options.ts';
import { nameOf } from './sort-files.ts';
import { explain, fileProblem } from './unusable.ts';

/** Moves that trackers recorded, what was wrong with their files, and the JSON files that hold none. */
export interface ReadTracking {
  readonly moves: readonly RecordedMove[];
  readonly problems: readonly ReadingProblem[];
  readonly others: readonly FoundFile[];
}

/** A quarter of an hour at 24 samples a second, written as fully as the format allows. */
const MOST_BYTES = 64 * 1024 * 1024;
/** Recordings are large and are taken apart in memory. */
const RECORDINGS_AT_ONCE = 2;
const FILES_AT_ONCE = 8;
const LIMIT_MS = 60_000;

/** Reads the OpenTrackIO recordings among the JSON files of a day, in order of their files. No file ends the day. */
export async function readTracking(files: readonly FoundFile[], ports: ReadPorts, signal: AbortSignal): Promise<ReadTracking> {
  const looked = await mapBounded(files, FILES_AT_ONCE, async (found) => lookAt(found, ports, signal));
  const recordings = recordingsOf(looked.flatMap((one) => ('tracking' in one ? [one.tracking] : [])));
  const read = await mapBounded(recordings, RECORDINGS_AT_ONCE, async (recording) => readRecording(recording, ports, signal));
  return {
    moves: read.flatMap(({ moves }) => moves),
    problems: [...looked.flatMap((one) => ('problem' in one ? [one.problem] : [])), ...read.flatMap(({ problems }) => problems)],
    others: looked.flatMap((one) => ('other' in one ? [one.other] : [])),
  };
}

type Looked = { readonly tracking: FoundFile } | { readonly other: FoundFile } | { readonly problem: ReadingProblem };

async function lookAt(found: FoundFile, { store }: ReadPorts, signal: AbortSignal): Promise<Looked> {
  try {
    const beginning = await withinTime(LIMIT_MS, signal, async (limited) => store.readBytes(found.path, 0, Math.min(found.sizeBytes, TELLING_BYTES), limited));
    return looksLikeOpenTrackIo(beginning) ? { tracking: found } : { other: found };
  } catch (failure) {
    signal.throwIfAborted();
    return { problem: unreadable(found, failure) };
  }
}

/** Files that make one recording, and what it goes by. */
interface Recording {
  readonly stem: string;
  readonly files: readonly FoundFile[];
}

/** Small files of one folder that differ in a number at their end hold one sample each of one recording. */
function recordingsOf(files: readonly FoundFile[]): readonly Recording[] {
  const byName = new Map<string, FoundFile[]>();
  for (const found of files) {
    const numbered = found.sizeBytes <= TELLING_BYTES ? /^(.*?)[._-]?\d+\.json$/iu.exec(nameOf(found.file))?.[1] : undefined;
    const key = numbered === undefined ? found.file : `${folderOf(found.file)}/${numbered}/`;
    const known = byName.get(key);
    if (known === undefined) byName.set(key, [found]);
    else known.push(found);
  }
  return [...byName.values()].map((group) => {
    const name = stemOfSidecar(group[0]?.file ?? '');
    return { files: group, stem: group.length === 1 ? name : name.replace(/[._-]?\d+$/u, '') };
  });
}

async function readRecording({ stem, files }: Recording, ports: ReadPorts, signal: AbortSignal): Promise<Omit<ReadTracking, 'others'>> {
  const texts = await mapBounded(files, FILES_AT_ONCE, async (found) => readText(found, ports, signal));
  const { moves, problems } = parseOpenTrackIo(texts.flatMap((text) => ('text' in text ? [text] : [])));
  const file = files[0]?.file ?? '';
  return {
    moves: moves.map((move) => ({ ...move, file, folder: folderOf(file), stem })),
    problems: [...texts.flatMap((text) => ('text' in text ? [] : [text])), ...problems],
  };
}

async function readText(found: FoundFile, { store }: ReadPorts, signal: AbortSignal): Promise<TrackingFile | ReadingProblem> {
  try {
    const bytes = await withinTime(LIMIT_MS, signal, async (limited) => store.readWhole(found.path, MOST_BYTES, limited));
    return { file: found.file, text: decodeText(bytes).text };
  } catch (failure) {
    signal.throwIfAborted();
    return unreadable(found, failure);
  }
}

function unreadable({ file }: FoundFile, failure: unknown): ReadingProblem {
  return fileProblem(file, 'unreadable-file', 'warn', { expected: 'a file that can be read', ...explain(failure) });
}
