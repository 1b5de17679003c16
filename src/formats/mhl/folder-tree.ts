import type { FolderDigest, HashedFolder } from './folder-digests.ts';

interface GrowingFolder {
  readonly files: Map<string, string>;
  readonly folders: Map<string, GrowingFolder | FolderDigest>;
}

/**
 * Files and folders by path as a tree, ready to be digested in one format. Undefined when a file or a nested history has no digest
 * in it: then nothing can be said of the folders above.
 */
export function folderTree(
  files: readonly (readonly [path: string, digest: string | undefined])[],
  folders: readonly string[],
  nestedRoot: (path: string) => FolderDigest | undefined,
  nested: ReadonlySet<string>,
): HashedFolder | undefined {
  const root: GrowingFolder = { files: new Map(), folders: new Map() };
  const byPath = new Map<string, GrowingFolder>([['', root]]);
  for (const path of folders) if (!nested.has(path)) folderAt(path, byPath);
  for (const path of nested) {
    const digest = nestedRoot(path);
    if (digest === undefined) return undefined;
    folderAt(parentOf(path), byPath).folders.set(nameOf(path), digest);
  }
  for (const [path, digest] of files) {
    if (digest === undefined) return undefined;
    folderAt(parentOf(path), byPath).files.set(nameOf(path), digest);
  }
  return root;
}

function folderAt(path: string, byPath: Map<string, GrowingFolder>): GrowingFolder {
  const known = byPath.get(path);
  if (known !== undefined) return known;
  const folder: GrowingFolder = { files: new Map(), folders: new Map() };
  byPath.set(path, folder);
  folderAt(parentOf(path), byPath).folders.set(nameOf(path), folder);
  return folder;
}

function parentOf(path: string): string {
  return path.slice(0, Math.max(0, path.lastIndexOf('/')));
}

function nameOf(path: string): string {
  return path.slice(path.lastIndexOf('/') + 1);
}

/** The folders a path lies in, nearest first; not the topmost, which has no name. */
export function foldersAbove(path: string): readonly string[] {
  const found: string[] = [];
  for (let end = path.lastIndexOf('/'); end > 0; end = path.lastIndexOf('/', end - 1)) found.push(path.slice(0, end));
  return found;
}
