import type { ReadingProblem } from '../../core/material/finding.ts';
import { alteredFile, differingFormats, missingFile, trustedFormats } from '../../formats/mhl/compare.ts';
import { findRenamed } from '../../formats/mhl/find-renamed.ts';
import type { FolderDigest } from '../../formats/mhl/folder-digests.ts';
import { digestFolder, utf8 } from '../../formats/mhl/folder-digests.ts';
import { folderTree } from '../../formats/mhl/folder-tree.ts';
import { formatChain, formatManifest, manifestName } from '../../formats/mhl/format-manifest.ts';
import type { Digest, HashFormat } from '../../formats/mhl/hash-format.ts';
import type { History, KnownFile } from '../../formats/mhl/history.ts';
import type { Author, ChainEntry, FileRecord, FolderDigests, FolderRecord, ManifestReference, RecordedDigest } from '../../formats/mhl/manifest.ts';
import { ALWAYS_IGNORED } from '../../formats/mhl/manifest.ts';
import { byCodeUnit } from '../../formats/mhl/safe-path.ts';
import type { HashedFile } from '../../ports.ts';

/** What a generation says of itself, besides the files. */
export interface SealOptions {
  /** At least one. Several cost one pass over the bytes. */
  readonly formats: readonly HashFormat[];
  readonly tool: { readonly name: string; readonly version: string };
  readonly hostname: string;
  readonly authors?: readonly Author[];
  readonly location?: string;
  readonly comment?: string;
  /** `in-place` (the default): hashed where it lies. `transfer`: written while copying. */
  readonly process?: 'in-place' | 'transfer';
  /** The folder's name as the manifest's file name carries it; without it the last part of its path. */
  readonly name?: string;
  /** Patterns to leave out besides those always left out, one .gitignore line each. */
  readonly ignore?: readonly string[];
}

/** A file as it lies there now. Times are milliseconds since 1970. */
export interface HashedEntry extends HashedFile {
  readonly modifiedMs: number;
  readonly hashedMs: number;
}

/** A history within the scope that has just got its own generation. */
export interface NestedSeal {
  readonly path: string;
  readonly roots: ReadonlyMap<HashFormat, FolderDigest>;
  readonly reference: ManifestReference;
}

export interface ScopeToSeal {
  /** For the manifest's name. */
  readonly name: string;
  readonly history: History;
  readonly chain: readonly ChainEntry[];
  /** By path relative to the scope; what is left out is not among them. */
  readonly files: ReadonlyMap<string, HashedEntry>;
  readonly folders: ReadonlyMap<string, { readonly modifiedMs: number }>;
  readonly nested: readonly NestedSeal[];
}

/** The next generation, ready to be written: the manifest first, the chain last. Problems are what it found. */
export interface SealPlan {
  readonly sequence: number;
  readonly manifestName: string;
  readonly manifest: string;
  readonly c4: string;
  readonly chain: string;
  readonly roots: ReadonlyMap<HashFormat, FolderDigest>;
  readonly problems: readonly ReadingProblem[];
}

/** Decides the next generation over a scope. Pure: equal files, history and time give equal bytes. `createdMs` is when the work began. */
export function planSeal(scope: ScopeToSeal, options: SealOptions, createdMs: number, digest: Digest): SealPlan {
  const { history, files, folders, nested } = scope;
  const missing = [...history.files.values()].filter(({ path }) => !files.has(path));
  const unknown = new Map([...files].filter(([path]) => !history.files.has(path)).map(([path, { digests }]) => [path, digests]));
  const renamed = findRenamed(missing, unknown);
  const oldPath = new Map([...renamed].map(([from, to]) => [to, from]));
  const problems: ReadingProblem[] = missing.filter(({ path }) => !renamed.has(path)).map((file) => missingFile(file.path, file));
  const records: (FileRecord | FolderRecord)[] = [];
  for (const [path, entry] of files) {
    const previousPath = oldPath.get(path);
    const known = history.files.get(previousPath ?? path);
    const differing = known === undefined ? [] : differingFormats(known, entry.digests);
    if (known !== undefined && differing.length > 0) problems.push(alteredFile(known, differing, entry, path));
    records.push({
      kind: 'file', path, sizeBytes: entry.sizeBytes, modified: dateTimeOf(entry.modifiedMs),
      digests: recordedDigests(entry, known, differing.length > 0, options.formats),
      ...(previousPath === undefined ? {} : { previousPath }),
    });
  }
  const digests = folderDigests(scope, options.formats, digest);
  for (const [path, { modifiedMs }] of folders) records.push({ kind: 'folder', path, modified: dateTimeOf(modifiedMs), ...pairs(digests, path) });
  for (const { path, roots } of nested) records.push({ kind: 'folder', path, ...pairs(new Map([...roots].map(([format, root]) => [format, new Map([[path, root]])])), path) });
  const created = dateTimeOf(createdMs);
  const sequence = history.latest + 1;
  const manifest = formatManifest({
    created, hostname: options.hostname, tool: options.tool, authors: options.authors ?? [],
    ...(options.location === undefined ? {} : { location: options.location }),
    ...(options.comment === undefined ? {} : { comment: options.comment }),
    process: options.process ?? 'in-place', root: pairs(digests, ''), ignore: patternsOf(history, options),
    records: records.toSorted((a, b) => byCodeUnit(a.path, b.path)), references: nested.map(({ reference }) => reference),
  });
  const name = manifestName(sequence, scope.name, created);
  const c4 = digest('c4', utf8(manifest));
  const roots = new Map<HashFormat, FolderDigest>();
  for (const [format, found] of digests) {
    const root = found.get('');
    if (root !== undefined) roots.set(format, root);
  }
  return { sequence, manifestName: name, manifest, c4, chain: formatChain([...scope.chain, { sequence, path: name, c4 }]), roots, problems };
}

/** Patterns may only grow: those always left out, those of the generations before, those asked for. */
export function patternsOf(history: History, { ignore = [] }: Pick<SealOptions, 'ignore'>): readonly string[] {
  return [...new Set([...ALWAYS_IGNORED, ...history.ignore, ...ignore])];
}

/** Formats to read a file in: those asked for, and when none of them is on record one that is, for a new format vouches for nothing. */
export function formatsToRead(known: KnownFile | undefined, asked: readonly HashFormat[]): readonly HashFormat[] {
  if (known === undefined) return asked;
  const trusted = trustedFormats(known);
  if (trusted.length === 0 || trusted.some((format) => asked.includes(format))) return asked;
  const quickest = QUICKEST_FIRST.find((format) => trusted.includes(format));
  return quickest === undefined ? asked : [...asked, quickest];
}

const QUICKEST_FIRST = ['xxh3', 'xxh64', 'xxh128', 'sha1', 'c4', 'md5'] as const satisfies readonly HashFormat[];

/** `original` for a path nobody knew; `verified` when it agrees with what is on record; else `failed`, and no new format then. */
function recordedDigests({ digests, hashedMs }: HashedEntry, known: KnownFile | undefined, failed: boolean, asked: readonly HashFormat[]): readonly RecordedDigest[] {
  const date = dateTimeOf(hashedMs);
  const trusted = known === undefined ? [] : trustedFormats(known);
  const isNew = trusted.length === 0;
  return Object.entries(digests).flatMap(([name, value]) => {
    const format = [...asked, ...trusted].find((one) => one === name);
    if (format === undefined || (failed && !trusted.includes(format))) return [];
    return [{ format, value, action: isNew ? 'original' : failed ? 'failed' : 'verified', date }];
  });
}

function folderDigests({ files, folders, nested }: ScopeToSeal, formats: readonly HashFormat[], digest: Digest): ReadonlyMap<HashFormat, ReadonlyMap<string, FolderDigest>> {
  const roots = new Map(nested.map(({ path, roots: own }) => [path, own]));
  return new Map(
    formats.flatMap((format) => {
      const tree = folderTree([...files].map(([path, { digests }]) => [path, digests[format]] as const), [...folders.keys()], (path) => roots.get(path)?.get(format), new Set(roots.keys()));
      return tree === undefined ? [] : [[format, digestFolder(tree, format, digest)] as const];
    }),
  );
}

function pairs(digests: ReadonlyMap<HashFormat, ReadonlyMap<string, FolderDigest>>, path: string): FolderDigests {
  const found = [...digests].flatMap(([format, byPath]) => {
    const own = byPath.get(path);
    return own === undefined ? [] : [[format, own] as const];
  });
  return {
    content: Object.fromEntries(found.map(([format, { content }]) => [format, content])),
    structure: Object.fromEntries(found.map(([format, { structure }]) => [format, structure])),
  };
}

/** UTC to the second, as manifests carry it. */
function dateTimeOf(ms: number): string {
  return `${new Date(ms).toISOString().slice(0, 19)}Z`;
}
