import type { Dirent, Stats } from 'node:fs';
import { lstat } from 'node:fs';
import { readdir, realpath, stat } from 'node:fs/promises';
import { basename, join, resolve } from 'node:path';
import { UnreachableFileError } from '../../core/material/errors.ts';
import type { FoundFile, MediaListing, Unreachable } from '../../ports.ts';
import { explainFailure } from './explain-failure.ts';
import type { MediaRoot } from './media-roots.ts';
import { isWithin, mediaRoots } from './media-roots.ts';
import { isClutter, isPassedOver } from './passed-over.ts';

/** No card and no day comes near these; a folder tree that does is a mistake, and is said to be one. */
const MOST_FILES = 2_000_000;
const MOST_DEPTH = 64;
const LOOKUPS_AT_ONCE = 64;
/** What decoding puts in the place of bytes that are not UTF-8. */
const GARBLED = '\uFFFD';

interface Walk {
  readonly signal: AbortSignal;
  readonly left: readonly string[];
  readonly roots: readonly string[];
  readonly files: FoundFile[];
  readonly unreachable: Unreachable[];
}

/**
 * Every file below the folders, sorted by name in code units, and every place that could not be looked into. `leftOut` are
 * folders to pass over, such as the one gemel writes to. Links are never followed.
 */
export async function listFiles(folders: readonly string[], leftOut: readonly string[], signal: AbortSignal): Promise<MediaListing> {
  const roots = await mediaRoots(folders);
  const walk: Walk = {
    signal,
    left: leftOut.map((folder) => resolve(folder)),
    roots: await Promise.all(roots.map(async ({ path }) => realpath(path).catch(() => path))),
    files: [],
    unreachable: [],
  };
  for (const root of roots) await walkRoot(root, walk);
  return { files: walk.files.toSorted(byFile), unreachable: walk.unreachable.toSorted(byFile) };
}

function byFile(a: { readonly file: string }, b: { readonly file: string }): number {
  return a.file < b.file ? -1 : a.file > b.file ? 1 : 0;
}

async function walkRoot({ path, prefix }: MediaRoot, walk: Walk): Promise<void> {
  try {
    const facts = await stat(path);
    // A single file goes by its own name, unless another of that name was given too.
    const alone = prefix === `${basename(path)}/` ? basename(path) : prefix + basename(path);
    if (facts.isFile()) walk.files.push({ path, file: alone, sizeBytes: facts.size, modifiedMs: facts.mtimeMs });
    else await walkFolder(path, prefix, 0, walk);
  } catch (failure) {
    walk.signal.throwIfAborted();
    walk.unreachable.push(unreachable(prefix === '' ? basename(path) : prefix.slice(0, -1), failure));
  }
}

async function walkFolder(folder: string, prefix: string, depth: number, walk: Walk): Promise<void> {
  walk.signal.throwIfAborted();
  let entries: Dirent[];
  try {
    entries = await readdir(folder, { withFileTypes: true });
  } catch (failure) {
    walk.unreachable.push(unreachable(prefix === '' ? basename(folder) : prefix.slice(0, -1), failure));
    return;
  }
  const wanted = entries.filter((entry) => !isClutter(entry.name) && !(entry.isDirectory() && isPassedOver(entry.name)));
  const below: string[] = [];
  for (let first = 0; first < wanted.length; first += LOOKUPS_AT_ONCE) {
    walk.signal.throwIfAborted();
    const looks = wanted.slice(first, first + LOOKUPS_AT_ONCE).map(async (entry) => look(entry, folder, prefix, walk));
    below.push(...(await Promise.all(looks)).filter((name) => name !== undefined));
  }
  for (const name of below) await descend(join(folder, name), `${prefix}${name}/`, depth + 1, walk);
}

async function descend(folder: string, prefix: string, depth: number, walk: Walk): Promise<void> {
  if (walk.left.some((left) => isWithin(folder, left))) return;
  if (depth > MOST_DEPTH || walk.files.length > MOST_FILES) {
    const reason = depth > MOST_DEPTH ? `it lies more than ${MOST_DEPTH} folders deep` : `more than ${MOST_FILES} files came before it`;
    walk.unreachable.push({ file: prefix.slice(0, -1), kind: 'too-much', reason, remedy: 'give the folders of the day, one by one' });
    return;
  }
  await walkFolder(folder, prefix, depth, walk);
}

/** Lists one entry. Answers its name when it is a folder to walk into. */
async function look(entry: Dirent, folder: string, prefix: string, walk: Walk): Promise<string | undefined> {
  const path = join(folder, entry.name);
  const file = prefix + entry.name;
  if (entry.isSymbolicLink()) {
    walk.unreachable.push(await linkNote(path, file, walk.roots));
    return undefined;
  }
  // A name that did not survive decoding stands for nothing, which only asking the system can tell.
  if (entry.isDirectory() && !entry.name.includes(GARBLED)) return entry.name;
  try {
    const facts = await factsOf(path);
    if (facts.isDirectory()) return entry.name;
    if (facts.isFile()) walk.files.push({ path, file, sizeBytes: facts.size, modifiedMs: facts.mtimeMs });
    else walk.unreachable.push({ file, kind: 'no-file', reason: 'it is a pipe, socket or device, not a file', remedy: 'nothing, unless a clip should be there' });
  } catch (failure) {
    walk.unreachable.push(entry.name.includes(GARBLED) ? garbled(file) : unreachable(file, failure));
  }
  return undefined;
}

/** What the system's own promise answers, in two thirds of its time: a watch asks this of every file, again and again. */
async function factsOf(path: string): Promise<Stats> {
  return new Promise((resolve, reject) => lstat(path, (failure, facts) => (failure === null ? resolve(facts) : reject(failure))));
}

function garbled(file: string): Unreachable {
  return {
    file,
    kind: 'name',
    reason: 'its name is not valid UTF-8, so it cannot be named in a report',
    remedy: 'rename a copy of it in letters the system knows, then run again',
  };
}

async function linkNote(path: string, file: string, roots: readonly string[]): Promise<Unreachable> {
  const target = await realpath(path).catch(() => undefined);
  if (target === undefined) return { file, kind: 'link', reason: 'it is a link to nothing', remedy: 'nothing, unless a clip should be there' };
  return roots.some((root) => isWithin(target, root))
    ? { file, kind: 'link', reason: 'it is a link into the media folders; what it points to is read where it lies', remedy: 'nothing' }
    : { file, kind: 'link', reason: 'it is a link out of the media folders; links are not followed', remedy: 'name the folder it points to as a media folder of its own' };
}

function unreachable(file: string, failure: unknown): Unreachable {
  const error = explainFailure(failure);
  const remedy = error instanceof UnreachableFileError ? error.remedy : 'look at the disk it lies on, then run again';
  return { file, kind: 'denied', reason: error.message, remedy };
}
