import { UnreachableFileError } from '../../core/material/errors.ts';
import type { ReadingProblem } from '../../core/material/finding.ts';
import { alteredFile, differingFormats, extraFile, missingFile, nothingToCompare, trustedFormats } from '../../formats/mhl/compare.ts';
import { findRenamed, renameFormats } from '../../formats/mhl/find-renamed.ts';
import type { Digests, HashFormat } from '../../formats/mhl/hash-format.ts';
import type { History, KnownFile } from '../../formats/mhl/history.ts';
import type { Ignores } from '../../formats/mhl/ignore.ts';
import { ignoresOf } from '../../formats/mhl/ignore.ts';
import { ALWAYS_IGNORED } from '../../formats/mhl/manifest.ts';
import { checkCollisions } from '../../formats/mhl/odd-entries.ts';
import type { FolderEntry, HashedFile } from '../../ports.ts';
import { atOnce } from './at-once.ts';
import type { Scope } from './scopes.ts';
import { within } from './scopes.ts';
import type { VerifyPorts } from './seal-ports.ts';

/** A file to hash and what for: the one that is known by that path, or one whose bytes may be those of a missing file. */
export interface HashJob {
  readonly entry: FolderEntry;
  /** Relative to the scope, as the history writes it; on disk the form of its accents may differ. */
  readonly path: string;
  readonly formats: readonly HashFormat[];
  readonly known: KnownFile | undefined;
}

export interface FilePlan {
  readonly jobs: readonly HashJob[];
  readonly missing: readonly KnownFile[];
  readonly extra: readonly FolderEntry[];
  readonly ignores: Ignores;
  readonly problems: readonly ReadingProblem[];
}

/** What came of a scope's files. `digests` are of files that agree, by path as the history writes it. */
export interface ScopeFiles {
  readonly digests: ReadonlyMap<string, Digests>;
  readonly good: number;
  readonly hashedBytes: number;
  readonly ignores: Ignores;
  readonly problems: readonly ReadingProblem[];
}

/** Which files of a scope are known and there, known and missing, there and unknown, and what to hash. */
export function planFiles(scope: Scope, history: History): FilePlan {
  const at = (file: string): string => within(scope.path, file);
  const ignores = ignoresOf([...history.ignore, ...ALWAYS_IGNORED]);
  const known = [...history.files.values()].filter(({ path }) => !ignores(path, false));
  const unknown = new Map(scope.entries.filter(({ file, kind }) => kind === 'file' && !history.files.has(file) && !ignores(file, false)).map((entry) => [entry.file, entry]));
  const folded = foldedNames([...unknown.keys()]);
  const jobs: HashJob[] = [];
  const missing: KnownFile[] = [];
  for (const file of known) {
    const entry = scope.allFiles.get(file.path) ?? takeFolded(file.path, folded, unknown);
    if (entry === undefined) missing.push(file);
    else jobs.push({ entry, path: file.path, formats: trustedFormats(file), known: file });
  }
  const extra = [...unknown.values()];
  const formatsFor = renameFormats(missing);
  const lookAlikes = extra.map((entry) => ({ entry, path: entry.file, formats: formatsFor(entry.sizeBytes), known: undefined }));
  const onDisk = scope.entries.filter(({ kind, file }) => kind === 'file' && !ignores(file, false)).map(({ file }) => file);
  return {
    jobs: [...jobs, ...lookAlikes.filter(({ formats }) => formats.length > 0)],
    missing,
    extra,
    ignores,
    problems: [...checkCollisions(onDisk, at), ...checkCollisions(known.map(({ path }) => path), at)],
  };
}

/** Names by the form in which accents of either kind are one; letter case still counts. */
function foldedNames(names: readonly string[]): ReadonlyMap<string, string> {
  return new Map(names.map((name) => [name.normalize('NFC'), name]));
}

/** A disk may keep "é" as one sign or as two: the standard says nothing of it, so both are one name as long as only one is there. */
function takeFolded(path: string, folded: ReadonlyMap<string, string>, unknown: Map<string, FolderEntry>): FolderEntry | undefined {
  const name = folded.get(path.normalize('NFC'));
  const entry = name === undefined ? undefined : unknown.get(name);
  if (name !== undefined) unknown.delete(name);
  return entry;
}

/** Hashes what the plan says, several files at once, and says what is missing, altered or unknown. */
export async function verifyFiles(scope: Scope, plan: FilePlan, ports: VerifyPorts, signal: AbortSignal): Promise<ScopeFiles> {
  const at = (file: string): string => within(scope.path, file);
  const problems: ReadingProblem[] = [...plan.problems];
  const digests = new Map<string, Digests>();
  const candidates = new Map<string, Digests>();
  let good = 0;
  let hashedBytes = 0;
  await atOnce(plan.jobs, ports.hasher.filesAtOnce, async ({ entry, path, formats, known }) => {
    if (known !== undefined && formats.length === 0) {
      problems.push(nothingToCompare(at(path), known));
      return;
    }
    const read = await hash(entry, formats, ports, signal);
    if (read instanceof UnreachableFileError) {
      problems.push({ code: 'unreadable-file', severity: 'stop', file: at(entry.file), place: '', found: read.reason, expected: 'a file that can be read', remedy: read.remedy });
      return;
    }
    hashedBytes += read.sizeBytes;
    if (known === undefined) {
      candidates.set(path, read.digests);
      return;
    }
    const differing = differingFormats(known, read.digests);
    if (differing.length > 0) problems.push(alteredFile(known, differing, read, at(path)));
    else {
      good++;
      digests.set(path, read.digests);
    }
  });
  const renamed = findRenamed(plan.missing, candidates);
  problems.push(...plan.missing.map((file) => missingFile(at(file.path), file, renamed.get(file.path))));
  const found = new Set(renamed.values());
  problems.push(...plan.extra.filter(({ file }) => !found.has(file)).map(({ file }) => extraFile(at(file), file)));
  return { digests, good, hashedBytes, ignores: plan.ignores, problems };
}

async function hash({ path }: FolderEntry, formats: readonly HashFormat[], { hasher, progress }: VerifyPorts, signal: AbortSignal): Promise<HashedFile | UnreachableFileError> {
  try {
    return await hasher.hashFile(path, formats, signal, (bytes) => progress.advance(0, bytes));
  } catch (failure) {
    if (failure instanceof UnreachableFileError) return failure;
    throw failure;
  } finally {
    progress.advance(1, 0);
  }
}
