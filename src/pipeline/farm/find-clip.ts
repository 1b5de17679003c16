import { lstat } from 'node:fs/promises';
import { basename, dirname } from 'node:path';
import { DiskStore } from '../../adapters/filesystem/disk-store.ts';
import type { FoundFile } from '../../ports.ts';
import type { FoundSequence } from '../../steps/read/sort-files.ts';
import { sortFiles } from '../../steps/read/sort-files.ts';

/** Numbers of a sequence as its file name has them. */
const NUMBERS = /#+/;

/** The movie or sequence ("####" for its numbers) that lies at a path of this machine; undefined when there is none, or a link. */
export async function findClip(path: string, signal: AbortSignal): Promise<FoundFile | FoundSequence | undefined> {
  const name = basename(path);
  // By itself, where it is one file: its folder may hold thousands of others.
  const facts = await lstat(path).catch(() => undefined);
  if (facts?.isFile() === false) return undefined;
  if (facts === undefined && !NUMBERS.test(name)) return undefined;
  const files = facts === undefined ? (await new DiskStore([dirname(path)]).list(signal)).files : [{ path, file: name, sizeBytes: facts.size, modifiedMs: facts.mtimeMs }];
  const { movies, sequences } = sortFiles(files.filter((found) => !found.file.includes('/')));
  return movies.find(({ file }) => file === name) ?? sequences.find(({ file }) => file === name);
}
