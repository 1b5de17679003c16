import type { SequenceFacts } from '../../core/material/clip.ts';
import { mediaKindOf } from '../../formats/media/media-kind.ts';
import type { SequenceGroup } from '../../formats/media/sequence-name.ts';
import { groupSequences, isIgnoredName, isUnfinishedName } from '../../formats/media/sequence-name.ts';
import { folderOf } from '../../formats/sidecars/stem.ts';
import type { FoundFile } from '../../ports.ts';

/** An image sequence found: `file` with "####" for the number, and its files in order of their numbers. */
export interface FoundSequence {
  readonly file: string;
  readonly group: SequenceGroup;
  readonly facts: SequenceFacts;
  readonly frames: readonly { readonly number: number; readonly found: FoundFile }[];
}

/** The files of a day by what is done with them. Every file but system clutter is in one list, each list sorted by file. */
export interface SortedFiles {
  readonly movies: readonly FoundFile[];
  readonly sequences: readonly FoundSequence[];
  readonly tables: readonly FoundFile[];
  readonly sidecars: readonly FoundFile[];
  /** Edit lists and timelines. */
  readonly cuts: readonly FoundFile[];
  /** JSON, which may be what a tracker recorded. */
  readonly tracking: readonly FoundFile[];
  /** Copies that never ended among them. */
  readonly unused: readonly FoundFile[];
}

type Kind = keyof SortedFiles | 'elsewhere';

/** Movies that only ffprobe reads. */
const PROBED_MOVIES = new Set(['qt', 'avi', 'mkv', 'mts', 'm2ts', 'mpg', 'mpeg', 'dv']);
/** What a tracker records, and much else: the file itself tells. */
const TRACKING = new Set(['json', 'jsonl', 'ndjson']);
const CUTS = new Set(['edl', 'otio']);
const TABLES = new Set(['csv', 'tsv', 'txt', 'f4']);
/** Corrections and pipelines are read before the day is. */
const ELSEWHERE = new Set(['yaml', 'yml']);
/** Pictures of these kinds are as often boards, charts and stills as plates: a single one is no clip. */
const OFTEN_STILLS = new Set(['tif', 'tiff', 'png', 'dng']);

/** Sorts files by their extensions, whatever the case of their letters; what is in them is looked at when they are read. */
export function sortFiles(files: readonly FoundFile[]): SortedFiles {
  const sorted = files.filter(({ file }) => !isIgnoredName(nameOf(file))).toSorted(byFile);
  const ofKind = (kind: Kind): readonly FoundFile[] => sorted.filter(({ file }) => kindOf(file) === kind);
  const groups = sequencesOf(ofKind('sequences'));
  const isStill = ({ file, frames }: FoundSequence): boolean => frames.length < 2 && OFTEN_STILLS.has(extensionOf(file));
  const stills = groups.filter(isStill).flatMap(({ frames }) => frames.map(({ found }) => found));
  return {
    movies: ofKind('movies'),
    sequences: groups.filter((group) => !isStill(group)),
    tables: ofKind('tables'),
    sidecars: ofKind('sidecars'),
    cuts: ofKind('cuts'),
    tracking: ofKind('tracking'),
    unused: [...ofKind('unused'), ...stills, ...files.filter(({ file }) => isUnfinishedName(nameOf(file)) && !nameOf(file).startsWith('.'))].toSorted(byFile),
  };
}

/** Whether a file's pictures are raw, which nothing here decodes. */
export function isRaw(file: string): boolean {
  return mediaKindOf(file)?.startsWith('raw-') === true;
}

/** "mov" for `A003C012.MOV`; "" without one. */
export function extensionOf(file: string): string {
  return /\.([^./]+)$/.exec(file)?.[1]?.toLowerCase() ?? '';
}

/** Name of a file without its folders. */
export function nameOf(file: string): string {
  return file.slice(file.lastIndexOf('/') + 1);
}

function kindOf(file: string): Kind {
  switch (mediaKindOf(file)) {
    case 'movie':
    case 'raw-movie': return 'movies';
    case 'picture':
    case 'raw-picture': return 'sequences';
    default: break;
  }
  const extension = extensionOf(file);
  if (PROBED_MOVIES.has(extension)) return 'movies';
  if (TABLES.has(extension)) return 'tables';
  if (CUTS.has(extension)) return 'cuts';
  if (TRACKING.has(extension)) return 'tracking';
  if (ELSEWHERE.has(extension)) return 'elsewhere';
  return extension === 'xml' ? 'sidecars' : 'unused';
}

function sequencesOf(files: readonly FoundFile[]): readonly FoundSequence[] {
  const folders = new Map<string, FoundFile[]>();
  for (const found of files) {
    const inFolder = folders.get(folderOf(found.file));
    if (inFolder === undefined) folders.set(folderOf(found.file), [found]);
    else inFolder.push(found);
  }
  return [...folders].flatMap(([folder, inFolder]) => sequencesOfFolder(folder, inFolder)).toSorted(byFile);
}

function sequencesOfFolder(folder: string, files: readonly FoundFile[]): readonly FoundSequence[] {
  const byName = new Map(files.map((found) => [nameOf(found.file), found]));
  return groupSequences([...byName.keys()]).map((group) => ({
    file: folder === '' ? group.displayName : `${folder}/${group.displayName}`,
    group,
    // A picture without a number is a sequence of one; its padding of 0 says that there is nothing to fill in.
    facts: group.facts ?? { first: 0, last: 0, padding: 0, missing: [] },
    frames: group.files.flatMap(({ name, number }) => {
      const found = byName.get(name);
      return found === undefined ? [] : [{ number, found }];
    }),
  }));
}

function byFile(a: { readonly file: string }, b: { readonly file: string }): number {
  return a.file < b.file ? -1 : a.file > b.file ? 1 : 0;
}
