import type { ReadingProblem } from '../../core/material/finding.ts';
import { isClutter } from '../../formats/mhl/compare.ts';
import type { FolderDigest } from '../../formats/mhl/folder-digests.ts';
import { digestFolder } from '../../formats/mhl/folder-digests.ts';
import { foldersAbove, folderTree } from '../../formats/mhl/folder-tree.ts';
import type { Digest, HashFormat } from '../../formats/mhl/hash-format.ts';
import { HASH_FORMATS } from '../../formats/mhl/hash-format.ts';
import type { KnownFolder } from '../../formats/mhl/history.ts';
import { problemLog } from '../../formats/mhl/problem-log.ts';
import type { ReadHistory } from './read-history.ts';
import type { Scope } from './scopes.ts';
import { within } from './scopes.ts';
import type { ScopeFiles } from './verify-files.ts';

interface Below {
  readonly read: ReadHistory;
  readonly roots: ReadonlyMap<HashFormat, FolderDigest>;
}

/**
 * Holds folders against the digests of the latest generation, as long as every file agrees: otherwise they must differ, and the
 * files have been told already. Older generations' folder digests no longer hold after files were added, and are not looked at.
 */
export function checkFolderDigests(
  scope: Scope,
  { history, generations, problems: readProblems }: ReadHistory,
  files: ScopeFiles,
  verified: ReadonlyMap<string, Below>,
  digest: Digest,
): { readonly roots: ReadonlyMap<HashFormat, FolderDigest>; readonly problems: readonly ReadingProblem[] } {
  const nothing = { roots: new Map<HashFormat, FolderDigest>(), problems: [] };
  const latest = generations.at(-1);
  const asRecorded = recordedForms(history);
  const folders = scope.entries.filter(({ kind, file }) => kind === 'folder' && !files.ignores(file, true) && !isClutter(file)).map(({ file }) => asRecorded(file));
  const strayFolders = checkEmptyFolders(scope, history, folders, files);
  const disturbed = strayFolders.length > 0 || files.problems.some(({ severity }) => severity !== 'note');
  // A generation that found a file altered digested its folders as they were then.
  const foundDamage = latest?.manifest.records.some((record) => record.kind === 'file' && record.digests.some(({ action }) => action === 'failed')) === true;
  if (disturbed || foundDamage || readProblems.some(({ severity }) => severity === 'stop')) return { ...nothing, problems: strayFolders };
  const nested = nestedRoots(scope, verified);
  const latestOnly = [...history.folders.values(), ...(history.root === undefined ? [] : [history.root])].filter(({ generation }) => generation === history.latest);
  const currentBelow = scope.nested.every((path) => {
    const newest = verified.get(within(scope.path, path))?.read.generations.at(-1)?.file;
    return latest?.manifest.references.some((reference) => within(scope.path, reference.path) === newest) === true;
  });
  // What a history recorded before a folder of it got one of its own counts there now.
  const nestedFolders = new Set(scope.nested);
  const own = [...files.digests].filter(([path]) => !foldersAbove(path).some((folder) => nestedFolders.has(folder)));
  const log = problemLog(latest?.file ?? '');
  const roots = new Map<HashFormat, FolderDigest>();
  for (const format of HASH_FORMATS) {
    const tree = folderTree(own.map(([path, digests]) => [path, digests[format]] as const), folders, (path) => nested.get(path)?.get(format), new Set(scope.nested));
    if (tree === undefined) continue;
    const found = digestFolder(tree, format, digest);
    const root = found.get('');
    if (root !== undefined) roots.set(format, root);
    if (currentBelow) for (const folder of latestOnly) compare(folder, format, found.get(folder.path) ?? nested.get(folder.path)?.get(format), log);
  }
  return { roots, problems: [...strayFolders, ...log.problems] };
}

function nestedRoots(scope: Scope, verified: ReadonlyMap<string, Below>): ReadonlyMap<string, ReadonlyMap<HashFormat, FolderDigest>> {
  return new Map(scope.nested.map((path) => [path, verified.get(within(scope.path, path))?.roots ?? new Map<HashFormat, FolderDigest>()]));
}

/** A disk may keep the accents of a folder's name in the other form than the history writes them. */
function recordedForms({ files, folders }: ReadHistory['history']): (folder: string) => string {
  const forms = new Map([...folders.keys(), ...[...files.keys()].flatMap(foldersAbove)].map((path) => [path.normalize('NFC'), path]));
  return (folder) => forms.get(folder.normalize('NFC')) ?? folder;
}

function compare({ path, content, structure }: KnownFolder, format: HashFormat, found: FolderDigest | undefined, log: ReturnType<typeof problemLog>): void {
  const place = path === '' ? 'roothash' : `folder ${path}`;
  if (found === undefined) return;
  for (const [what, recorded, now] of [['content', content[format], found.content], ['structure', structure[format], found.structure]] as const) {
    if (recorded === undefined || recorded === now) continue;
    log.invalid('warn', place, `${what} ${format} ${now}, though every file is as recorded`, recorded);
  }
}

/** Folders without any file: on record and gone, or there and on no record although the latest generation records folders. */
function checkEmptyFolders(scope: Scope, { folders: known, root, latest, files }: ReadHistory['history'], folders: readonly string[], { ignores }: ScopeFiles): readonly ReadingProblem[] {
  const at = (file: string): string => within(scope.path, file);
  const there = new Set(folders);
  const holdsFiles = new Set([...files.keys(), ...scope.entries.filter(({ kind }) => kind === 'file').map(({ file }) => file)].flatMap(foldersAbove));
  // A folder that the last generation to list folders does not list was renamed or removed before it.
  const gone = [...known.values()].filter(({ path, generation }) => generation === (root?.generation ?? latest) && !there.has(path) && !holdsFiles.has(path) && !ignores(path, true));
  const recordsFolders = root?.generation === latest;
  const extra = folders.filter((path) => recordsFolders && !known.has(path) && !holdsFiles.has(path) && !scope.nested.some((nested) => nested === path || nested.startsWith(`${path}/`)));
  return [
    ...gone.map(({ path, generation }): ReadingProblem => ({ code: 'file-missing', severity: 'warn', file: at(path), place: '', found: 'not there', expected: `an empty folder (generation ${generation})`, remedy: 'make it again if a program looks for it' })),
    ...extra.map((path): ReadingProblem => ({ code: 'file-extra', severity: 'note', file: at(path), place: '', found: 'an empty folder that no generation names', expected: 'only folders that are on record', remedy: 'nothing' })),
  ];
}
