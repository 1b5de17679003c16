import type { ReadingProblem } from '../../core/material/finding.ts';
import type { FolderDigest } from '../../formats/mhl/folder-digests.ts';
import type { HashFormat } from '../../formats/mhl/hash-format.ts';
import { checkEntries } from '../../formats/mhl/odd-entries.ts';
import { ASK_AGAIN, sortProblems } from '../../formats/mhl/problem-log.ts';
import type { Verification } from '../../formats/mhl/verification.ts';
import { checkFolderDigests } from './check-folder-digests.ts';
import { checkReferences } from './check-references.ts';
import { readHistory } from './read-history.ts';
import type { ReadHistory } from './read-history.ts';
import type { Scope } from './scopes.ts';
import { findScopes } from './scopes.ts';
import type { VerifyPorts } from './seal-ports.ts';
import type { ScopeFiles } from './verify-files.ts';
import { planFiles, verifyFiles } from './verify-files.ts';

/** One scope as it was verified; `roots` are its root digests as computed now, where nothing differs. */
export interface VerifiedScope {
  readonly scope: Scope;
  readonly read: ReadHistory;
  readonly files: ScopeFiles;
  readonly roots: ReadonlyMap<HashFormat, FolderDigest>;
}

/**
 * Holds a folder against its ASC MHL history: the chain, every generation, every file in every format on record, folders, nested
 * histories. Writes nothing and follows no link. `folder` is absolute.
 * @throws {UnreachableFileError} when the folder itself cannot be listed.
 */
export async function verifyHistory(folder: string, ports: VerifyPorts, signal: AbortSignal): Promise<Verification> {
  const entries = await ports.store.listAll(folder, signal);
  const scopes = findScopes(entries);
  const own = scopes.find(({ path }) => path === '');
  const problems: ReadingProblem[] = [...checkEntries(entries, (file) => file)];
  if (own?.history === undefined) return { history: 'none', generations: 0, verifiedFiles: 0, hashedBytes: 0, problems: sortProblems([...problems, noHistory()]) };
  const read = new Map<string, ReadHistory>();
  for (const scope of scopes) read.set(scope.path, await readHistory(scope, ports, signal));
  const plans = scopes.flatMap((scope) => {
    const found = read.get(scope.path);
    return found === undefined ? [] : [{ scope, read: found, plan: planFiles(scope, found.history) }];
  });
  const jobs = plans.flatMap(({ plan }) => plan.jobs);
  const bytes = jobs.reduce((sum, { entry }) => sum + entry.sizeBytes, 0);
  ports.progress.start('verifying hashes', jobs.length, bytes);
  ports.hasher.expect(bytes, [...new Set(jobs.flatMap(({ formats }) => formats))]);
  const verified = new Map<string, VerifiedScope>();
  for (const { scope, read: found, plan } of plans) {
    const files = await verifyFiles(scope, plan, ports, signal);
    const folders = checkFolderDigests(scope, found, files, verified, ports.hasher.digest);
    verified.set(scope.path, { scope, read: found, files, roots: folders.roots });
    problems.push(...found.problems, ...files.problems, ...folders.problems, ...checkReferences(scope, read));
  }
  ports.progress.done();
  return {
    history: 'read',
    generations: read.get('')?.history.latest ?? 0,
    verifiedFiles: [...verified.values()].reduce((sum, { files }) => sum + files.good, 0),
    hashedBytes: [...verified.values()].reduce((sum, { files }) => sum + files.hashedBytes, 0),
    problems: sortProblems(problems),
  };
}

function noHistory(): ReadingProblem {
  return { code: 'manifest-invalid', severity: 'stop', file: 'ascmhl', place: '', found: 'no history', expected: 'a folder ascmhl with manifests and their chain', remedy: ASK_AGAIN };
}
