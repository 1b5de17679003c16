import { hostname } from 'node:os';
import { DiskHistoryWriter } from '../adapters/filesystem/disk-history-writer.ts';
import { DiskPackageStore } from '../adapters/filesystem/disk-package-store.ts';
import { explainFailure } from '../adapters/filesystem/explain-failure.ts';
import { mediaRoots } from '../adapters/filesystem/media-roots.ts';
import { FileHasher } from '../adapters/hash/file-hasher.ts';
import { FastXmlReader } from '../adapters/xml/fast-xml-reader.ts';
import { UnreachableFileError } from '../core/material/errors.ts';
import type { ReadingProblem } from '../core/material/finding.ts';
import { HISTORY_FOLDER } from '../formats/mhl/manifest.ts';
import type { FolderEntry, Progress } from '../ports.ts';
import type { SealPorts } from '../steps/seal/seal-ports.ts';
import { verifyHistory } from '../steps/seal/verify-history.ts';
import { hasherOnFarm } from './farm/hash-jobs.ts';
import { systemClock } from './system-clock.ts';
import type { Workshop } from './workshop.ts';

/** What came of holding cards against their hash lists. */
export interface VerifiedCards {
  /** Folders with a history, named as files are: relative to the media root; "." for the root itself. */
  readonly histories: readonly string[];
  readonly verifiedFiles: number;
  readonly hashedBytes: number;
  /** `file` is relative to the media root, with its prefix when there are several. */
  readonly problems: readonly ReadingProblem[];
}

/** The world as sealing and verifying need it. End it when done: `await using`. */
export async function openSealPorts(progress: Progress): Promise<SealPorts & AsyncDisposable> {
  const hasher = await FileHasher.open({ explain: explainFailure });
  return {
    store: new DiskPackageStore(),
    hasher,
    writer: new DiskHistoryWriter(),
    xml: new FastXmlReader({ lists: true }),
    clock: systemClock,
    progress,
    [Symbol.asyncDispose]: async () => hasher[Symbol.asyncDispose](),
  };
}

/** Holds every folder with an ASC MHL history below the media folders against it. Writes nothing. On a farm the workers hash as well. */
export async function verifyCards(media: readonly string[], progress: Progress, signal: AbortSignal, { catalogue, farm }: Partial<Pick<Workshop, 'catalogue' | 'farm'>> = {}): Promise<VerifiedCards> {
  await using own = await openSealPorts(progress);
  // Nobody else verifies on this machine, in this process, at this moment.
  const run = `${hostname()} ${process.pid} ${systemClock.nowMs()}`;
  const ports: SealPorts = catalogue === undefined || farm === undefined ? own : { ...own, hasher: hasherOnFarm(own.hasher, { ...farm, catalogue, run }) };
  const histories: string[] = [];
  const problems: ReadingProblem[] = [];
  let verifiedFiles = 0;
  let hashedBytes = 0;
  for (const { path, prefix } of await mediaRoots(media)) {
    // A single file has no history; a root that cannot be listed the reading has told already.
    const entries = await ports.store.listAll(path, signal).catch((failure: unknown) => {
      if (failure instanceof UnreachableFileError) return [];
      throw failure;
    });
    for (const folder of historyFolders(entries)) {
      const found = await verifyHistory(folder === '' ? path : `${path}/${folder}`, ports, signal);
      const before = prefix + (folder === '' ? '' : `${folder}/`);
      histories.push(before === '' ? '.' : before.slice(0, -1));
      problems.push(...found.problems.map((problem) => ({ ...problem, file: before + problem.file })));
      verifiedFiles += found.verifiedFiles;
      hashedBytes += found.hashedBytes;
    }
  }
  return { histories, verifiedFiles, hashedBytes, problems };
}

/** Outermost folders that hold a history, relative to the root, "" for the root itself; those within are verified with them. */
function historyFolders(entries: readonly FolderEntry[]): readonly string[] {
  const folders = entries.filter(({ kind, file }) => kind === 'folder' && `/${file}`.endsWith(`/${HISTORY_FOLDER}`)).map(({ file }) => file.slice(0, Math.max(0, file.length - HISTORY_FOLDER.length - 1)));
  return folders.filter((folder) => !folders.some((other) => other !== folder && (other === '' || folder.startsWith(`${other}/`)))).toSorted();
}
