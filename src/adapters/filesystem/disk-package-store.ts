import type { Dirent } from 'node:fs';
import { lstat, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { FolderEntry, PackageStore } from '../../ports.ts';
import { DiskStore } from './disk-store.ts';
import { explainFailure } from './explain-failure.ts';

/** A tree deeper than this is a mistake, or made to trip programs. */
const MOST_DEPTH = 200;
const LOOKUPS_AT_ONCE = 64;
/** What decoding puts in the place of bytes that are not UTF-8. */
const GARBLED = '\uFFFD';

/** Packages and cards on disks and shares: everything that lies there, links flagged and never followed, nothing written. */
export class DiskPackageStore implements PackageStore {
  readonly #files = new DiskStore([]);

  async listAll(folder: string, signal: AbortSignal): Promise<readonly FolderEntry[]> {
    const found: FolderEntry[] = [];
    const waiting = [{ path: folder, prefix: '', depth: 0 }];
    for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
      signal.throwIfAborted();
      const { path, prefix, depth } = next;
      const entries = await contents(path).catch((failure: unknown) => {
        if (prefix === '') throw explainFailure(failure);
        return undefined;
      });
      if (entries === undefined || depth > MOST_DEPTH) {
        found.push({ path, file: prefix.slice(0, -1), kind: 'denied', sizeBytes: 0, modifiedMs: 0 });
        continue;
      }
      for (let first = 0; first < entries.length; first += LOOKUPS_AT_ONCE) {
        signal.throwIfAborted();
        const some = entries.slice(first, first + LOOKUPS_AT_ONCE);
        found.push(...(await Promise.all(some.map(async ({ name }) => look(join(path, name), prefix + name)))));
      }
      const folders = found.slice(-entries.length).filter(({ kind }) => entries.length > 0 && kind === 'folder');
      waiting.push(...folders.map(({ path: below, file }) => ({ path: below, prefix: `${file}/`, depth: depth + 1 })));
    }
    return found.toSorted((a, b) => (a.file < b.file ? -1 : a.file > b.file ? 1 : 0));
  }

  async readWhole(path: string, maxBytes: number, signal: AbortSignal): Promise<Uint8Array> {
    return this.#files.readWhole(path, maxBytes, signal);
  }
}

async function contents(folder: string): Promise<readonly Dirent[]> {
  // A folder that became a link since it was listed is not walked into.
  if ((await lstat(folder)).isSymbolicLink()) throw Object.assign(new Error('a link'), { code: 'ELOOP' });
  return readdir(folder, { withFileTypes: true });
}

async function look(path: string, file: string): Promise<FolderEntry> {
  try {
    const facts = await lstat(path);
    const kind = facts.isFile() ? 'file' : facts.isDirectory() ? 'folder' : facts.isSymbolicLink() ? 'link' : 'other';
    return { path, file, kind, sizeBytes: kind === 'file' ? facts.size : 0, modifiedMs: facts.mtimeMs };
  } catch {
    return { path, file, kind: file.includes(GARBLED) ? 'unnamed' : 'denied', sizeBytes: 0, modifiedMs: 0 };
  }
}
