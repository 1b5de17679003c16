import { HISTORY_FOLDER } from '../../formats/mhl/manifest.ts';
import type { FolderEntry } from '../../ports.ts';

/** A folder with a history of its own. `path` is "" for the folder itself, else its place below it. */
export interface Scope {
  readonly path: string;
  /** What lies below it and below no scope within it; `file` relative to the scope. Its own history is left out. */
  readonly entries: readonly FolderEntry[];
  /** Every file below it, those of scopes within it too, by path relative to the scope. */
  readonly allFiles: ReadonlyMap<string, FolderEntry>;
  /** What lies in its history folder, by name; undefined when there is no such folder. */
  readonly history: ReadonlyMap<string, FolderEntry> | undefined;
  /** Scopes directly within it, by path relative to it. */
  readonly nested: readonly string[];
}

/** The folder itself and every folder below it that has a history, deepest first. A file belongs to the nearest of them. */
export function findScopes(entries: readonly FolderEntry[]): readonly Scope[] {
  const suffix = `/${HISTORY_FOLDER}`;
  const paths = new Set(['', ...entries.filter(({ kind, file }) => kind === 'folder' && file.endsWith(suffix)).map(({ file }) => file.slice(0, -suffix.length))]);
  // A history within a history's own folder is none.
  const scopes = [...paths].filter((path) => !`/${path}/`.includes(`${suffix}/`));
  const known = new Set(scopes);
  const own = new Map<string, FolderEntry[]>(scopes.map((path) => [path, []]));
  const all = new Map<string, Map<string, FolderEntry>>(scopes.map((path) => [path, new Map()]));
  for (const entry of entries) {
    const holders = scopesAbove(entry.file, known);
    const nearest = holders[0] ?? '';
    own.get(nearest)?.push({ ...entry, file: below(entry.file, nearest) });
    if (entry.kind === 'file') for (const holder of holders) all.get(holder)?.set(below(entry.file, holder), entry);
  }
  const nested = new Map<string, string[]>(scopes.map((path) => [path, []]));
  for (const path of scopes) {
    const parent = path === '' ? undefined : scopesAbove(path, known)[0];
    if (parent !== undefined) nested.get(parent)?.push(below(path, parent));
  }
  return scopes
    .toSorted((a, b) => depthOf(b) - depthOf(a) || (a < b ? -1 : 1))
    .map((path) => scopeOf(path, own.get(path) ?? [], all.get(path) ?? new Map(), nested.get(path) ?? []));
}

function depthOf(path: string): number {
  return path === '' ? 0 : path.split('/').length;
}

function scopeOf(path: string, entries: readonly FolderEntry[], allFiles: ReadonlyMap<string, FolderEntry>, nested: readonly string[]): Scope {
  const inside = `${HISTORY_FOLDER}/`;
  const has = entries.some(({ file, kind }) => file === HISTORY_FOLDER && kind === 'folder');
  return {
    path,
    entries: entries.filter(({ file, kind }) => !file.startsWith(inside) && !(file === HISTORY_FOLDER && kind === 'folder')),
    allFiles,
    history: has ? new Map(entries.filter(({ file }) => file.startsWith(inside)).map((entry) => [entry.file.slice(inside.length), entry])) : undefined,
    nested: nested.toSorted(),
  };
}

/** Scopes a path lies in, nearest first. The folder of a scope itself belongs to the scope around it. */
function scopesAbove(file: string, scopes: ReadonlySet<string>): readonly string[] {
  const found: string[] = [];
  for (let end = file.lastIndexOf('/'); end > 0; end = file.lastIndexOf('/', end - 1)) {
    const folder = file.slice(0, end);
    if (scopes.has(folder)) found.push(folder);
  }
  found.push('');
  return found;
}

/** A path relative to a scope. */
function below(file: string, scope: string): string {
  return scope === '' ? file : file.slice(scope.length + 1);
}

/** A path of a scope relative to the whole folder. */
export function within(scope: string, file: string): string {
  return scope === '' ? file : file === '' ? scope : `${scope}/${file}`;
}
