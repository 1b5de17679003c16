import type { HashFormat } from './hash-format.ts';
import type { FileRecord, FolderDigests, FolderRecord, Manifest } from './manifest.ts';

/** One manifest of a history that could be read. `sequence` is its generation, from 1; `file` its place for people. */
export interface Generation {
  readonly sequence: number;
  readonly file: string;
  readonly manifest: Manifest;
}

/** A digest a file is held against, and the generation it was first recorded in. */
export interface TrustedDigest {
  readonly value: string;
  readonly generation: number;
}

/** A file as all generations together know it, under its latest path. */
export interface KnownFile {
  readonly path: string;
  /** By its latest record. */
  readonly sizeBytes: number | undefined;
  /** The earliest digest of each format that was marked original or verified. Empty: nothing to hold it against. */
  readonly trusted: ReadonlyMap<HashFormat, TrustedDigest>;
  readonly generation: number;
}

/** A folder's latest digests. */
export interface KnownFolder extends FolderDigests {
  readonly path: string;
  readonly generation: number;
}

/** What a whole history says of its scope. */
export interface History {
  readonly files: ReadonlyMap<string, KnownFile>;
  readonly folders: ReadonlyMap<string, KnownFolder>;
  /** Of the latest generation that has one. */
  readonly root: KnownFolder | undefined;
  /** Patterns of all generations, for they may only grow. */
  readonly ignore: readonly string[];
  /** The number of the latest generation, 0 when there is none. */
  readonly latest: number;
  /** Generations whose renames begin at a path that no generation knew. */
  readonly strayRenames: readonly { readonly file: string; readonly path: string; readonly previousPath: string }[];
}

/** Assembles what is known from all generations: later ones may list only what was added. Follows renames one generation at a time. */
export function assembleHistory(generations: readonly Generation[]): History {
  const files = new Map<string, KnownFile>();
  const folders = new Map<string, KnownFolder>();
  const ignore = new Set<string>();
  const strayRenames: { file: string; path: string; previousPath: string }[] = [];
  let root: KnownFolder | undefined;
  let latest = 0;
  for (const { sequence, file, manifest } of generations.toSorted((a, b) => a.sequence - b.sequence)) {
    const strays = moveRenamed(manifest.records, files, folders);
    strayRenames.push(...strays.map((stray) => ({ file, ...stray })));
    for (const record of manifest.records) {
      if (record.kind === 'file') files.set(record.path, learn(files.get(record.path), record, sequence));
      else folders.set(record.path, { path: record.path, content: record.content, structure: record.structure, generation: sequence });
    }
    if (manifest.root !== undefined) root = { path: '', ...manifest.root, generation: sequence };
    for (const pattern of manifest.ignore) ignore.add(pattern);
    latest = Math.max(latest, sequence);
  }
  return { files, folders, root, ignore: [...ignore], latest, strayRenames };
}

function learn(known: KnownFile | undefined, { path, sizeBytes, digests }: FileRecord, generation: number): KnownFile {
  const trusted = new Map(known?.trusted);
  for (const { format, value, action } of digests) {
    if ((action === 'original' || action === 'verified') && !trusted.has(format)) trusted.set(format, { value, generation });
  }
  // A failed file's record carries the size of what lay there then.
  const failed = digests.some(({ action }) => action === 'failed');
  return { path, sizeBytes: failed && known !== undefined ? known.sizeBytes : (sizeBytes ?? known?.sizeBytes), trusted, generation };
}

interface Renamed {
  readonly path: string;
  readonly previousPath: string;
}

/** Moves what one generation renamed, all at once, so that two files may swap names. Answers renames from paths nobody knew. */
function moveRenamed(records: readonly (FileRecord | FolderRecord)[], files: Map<string, KnownFile>, folders: Map<string, KnownFolder>): readonly Renamed[] {
  const renames = records.flatMap(({ kind, path, previousPath }) => (previousPath === undefined ? [] : [{ kind, path, previousPath }]));
  if (renames.length === 0) return [];
  const ofFiles = renames.filter(({ kind }) => kind === 'file');
  const ofFolders = new Map(renames.filter(({ kind }) => kind === 'folder').map(({ path, previousPath }) => [previousPath, path]));
  const own = new Map(ofFiles.map(({ path, previousPath }) => [previousPath, path]));
  // A file whose folder was renamed goes along, unless it has a rename of its own.
  moveAll(files, (path) => own.get(path) ?? movedBelow(path, ofFolders));
  moveAll(folders, (path) => ofFolders.get(path) ?? movedBelow(path, ofFolders));
  return ofFiles.filter(({ path }) => !files.has(path)).map(({ path, previousPath }) => ({ path, previousPath }));
}

function moveAll<T extends { readonly path: string }>(known: Map<string, T>, newPath: (path: string) => string | undefined): void {
  const moved: T[] = [];
  for (const entry of known.values()) {
    const path = newPath(entry.path);
    if (path === undefined) continue;
    known.delete(entry.path);
    moved.push({ ...entry, path });
  }
  for (const entry of moved) known.set(entry.path, entry);
}

/** Where a path lies now that the nearest of its folders that was renamed bears its new name. */
function movedBelow(path: string, folders: ReadonlyMap<string, string>): string | undefined {
  if (folders.size === 0) return undefined;
  for (let end = path.lastIndexOf('/'); end > 0; end = path.lastIndexOf('/', end - 1)) {
    const renamed = folders.get(path.slice(0, end));
    if (renamed !== undefined) return renamed + path.slice(end);
  }
  return undefined;
}
