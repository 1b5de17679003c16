import type { ReadingProblem } from '../../core/material/finding.ts';
import { utf8 } from '../../formats/mhl/folder-digests.ts';
import { renameFormats } from '../../formats/mhl/find-renamed.ts';
import type { HashFormat } from '../../formats/mhl/hash-format.ts';
import { ignoresOf } from '../../formats/mhl/ignore.ts';
import { ALWAYS_IGNORED, CHAIN_FILE, HISTORY_FOLDER } from '../../formats/mhl/manifest.ts';
import { checkCollisions, checkEntries } from '../../formats/mhl/odd-entries.ts';
import { sortProblems } from '../../formats/mhl/problem-log.ts';
import type { FolderEntry } from '../../ports.ts';
import { atOnce } from './at-once.ts';
import type { HashedEntry, NestedSeal, SealOptions, SealPlan } from './plan-seal.ts';
import { formatsToRead, patternsOf, planSeal } from './plan-seal.ts';
import type { ReadHistory } from './read-history.ts';
import { readHistory } from './read-history.ts';
import type { Scope } from './scopes.ts';
import { findScopes, within } from './scopes.ts';
import type { SealPorts } from './seal-ports.ts';

/**
 * What came of sealing. `refused`: nothing was written, the problems say why. `sealed`: a generation was written, and problems are
 * what it found against the generations before (altered and missing files).
 */
export interface Sealed {
  readonly kind: 'sealed' | 'refused';
  readonly generation: number;
  /** Relative to the folder, "ascmhl/0001_….mhl"; "" when refused. */
  readonly manifest: string;
  readonly files: number;
  readonly bytes: number;
  readonly problems: readonly ReadingProblem[];
}

/**
 * Writes the next ASC MHL generation over a folder, the first when it has no history; folders within it that have histories get
 * theirs with the same stamp. `folder` is absolute. Nothing is written before every file was read.
 * @throws {UnreachableFileError} when a file cannot be read.
 */
export async function sealFolder(folder: string, options: SealOptions, ports: SealPorts, signal: AbortSignal): Promise<Sealed> {
  const createdMs = ports.clock.nowMs();
  const entries = await ports.store.listAll(folder, signal);
  const scopes: ReadScope[] = [];
  for (const scope of findScopes(entries)) scopes.push(await readScope(scope, options, ports, signal));
  const whyNot = [...checkEntries(entries, (file) => file), ...scopes.flatMap(faultsOf)];
  if (whyNot.length > 0) return { kind: 'refused', generation: 0, manifest: '', files: 0, bytes: 0, problems: sortProblems(whyNot) };
  const hashed = await hashAll(scopes, options.formats, ports, signal);
  const plans = planAll(folder, scopes, hashed, options, createdMs, ports);
  await deliverSeal(folder, plans, ports);
  const own = plans.get('');
  const all = [...hashed.values()].flatMap((files) => [...files.values()]);
  return {
    kind: 'sealed', generation: own?.sequence ?? 0, manifest: own === undefined ? '' : `${HISTORY_FOLDER}/${own.manifestName}`,
    files: all.length, bytes: all.reduce((sum, { sizeBytes }) => sum + sizeBytes, 0),
    problems: sortProblems([...plans].flatMap(([path, { problems }]) => problems.map((problem) => ({ ...problem, file: within(path, problem.file) })))),
  };
}

/** Writes planned generations, those of nested folders first; in each the manifest before the chain that names it. */
export async function deliverSeal(folder: string, plans: ReadonlyMap<string, SealPlan>, { writer }: Pick<SealPorts, 'writer'>): Promise<void> {
  for (const [path, { manifestName, manifest, chain }] of plans) {
    const history = `${folder}/${within(path, HISTORY_FOLDER)}`;
    await writer.write(`${history}/${manifestName}`, utf8(manifest), false);
    await writer.write(`${history}/${CHAIN_FILE}`, utf8(chain), true);
  }
}

interface ReadScope {
  readonly scope: Scope;
  readonly read: ReadHistory | undefined;
  readonly files: readonly FolderEntry[];
  readonly folders: readonly FolderEntry[];
}

async function readScope(scope: Scope, options: SealOptions, ports: SealPorts, signal: AbortSignal): Promise<ReadScope> {
  const read = scope.history === undefined ? undefined : await readHistory(scope, ports, signal);
  const ignores = ignoresOf([...patternsOf(historyOf(read), options), ...ALWAYS_IGNORED]);
  const nested = new Set(scope.nested);
  return {
    scope,
    read,
    files: scope.entries.filter(({ kind, file }) => kind === 'file' && !ignores(file, false)),
    folders: scope.entries.filter(({ kind, file }) => kind === 'folder' && !nested.has(file) && !ignores(file, true)),
  };
}

function historyOf(read: ReadHistory | undefined): ReadHistory['history'] {
  return read?.history ?? { files: new Map(), folders: new Map(), root: undefined, ignore: [], latest: 0, strayRenames: [] };
}

/** A history that is broken gets no generation on top, and names that another system cannot keep apart are not sealed. */
function faultsOf({ scope, read, files }: ReadScope): readonly ReadingProblem[] {
  return [
    ...(files.length === 0 && scope.nested.length === 0 ? [nothingToSeal(scope.path)] : []),
    ...(read?.problems ?? []).filter(({ severity }) => severity === 'stop'),
    ...checkCollisions(files.map(({ file }) => file), (file) => within(scope.path, file)),
  ];
}

function nothingToSeal(file: string): ReadingProblem {
  return { code: 'file-missing', severity: 'stop', file, place: '', found: 'no file', expected: 'at least one file to seal', remedy: 'check that it is the right folder' };
}

type HashedScopes = ReadonlyMap<string, ReadonlyMap<string, HashedEntry>>;

async function hashAll(scopes: readonly ReadScope[], formats: readonly HashFormat[], { hasher, clock, progress }: SealPorts, signal: AbortSignal): Promise<HashedScopes> {
  const jobs = scopes.flatMap(({ scope, read, files }) => {
    const history = historyOf(read);
    const there = new Set(files.map(({ file }) => file));
    const renamed = renameFormats([...history.files.values()].filter(({ path }) => !there.has(path)));
    return files.map((entry) => {
      const known = history.files.get(entry.file);
      const more = known === undefined ? renamed(entry.sizeBytes) : [];
      return { scope: scope.path, entry, formats: [...new Set([...formatsToRead(known, formats), ...more])] };
    });
  });
  const hashed = new Map(scopes.map(({ scope }) => [scope.path, new Map<string, HashedEntry>()]));
  const bytes = jobs.reduce((sum, { entry }) => sum + entry.sizeBytes, 0);
  progress.start('sealing', jobs.length, bytes);
  hasher.expect(bytes, formats);
  await atOnce(jobs, hasher.filesAtOnce, async ({ scope, entry, formats: wanted }) => {
    const read = await hasher.hashFile(entry.path, wanted, signal, (bytes) => progress.advance(0, bytes));
    hashed.get(scope)?.set(entry.file, { ...read, modifiedMs: entry.modifiedMs, hashedMs: clock.nowMs() });
    progress.advance(1, 0);
  });
  progress.done();
  return hashed;
}

/** Plans every scope, deepest first: a folder's generation names those of the histories within it. */
function planAll(folder: string, scopes: readonly ReadScope[], hashed: HashedScopes, options: SealOptions, createdMs: number, { hasher }: SealPorts): ReadonlyMap<string, SealPlan> {
  const plans = new Map<string, SealPlan>();
  for (const { scope, read, folders } of scopes) {
    const nested = scope.nested.flatMap((path): readonly NestedSeal[] => {
      const plan = plans.get(within(scope.path, path));
      return plan === undefined ? [] : [{ path, roots: plan.roots, reference: { path: `${path}/${HISTORY_FOLDER}/${plan.manifestName}`, c4: plan.c4 } }];
    });
    const name = scope.path === '' ? (options.name ?? lastPart(folder)) : lastPart(scope.path);
    const files = hashed.get(scope.path) ?? new Map<string, HashedEntry>();
    const there = new Map(folders.map(({ file, modifiedMs }) => [file, { modifiedMs }]));
    plans.set(scope.path, planSeal({ name, history: historyOf(read), chain: read?.chain ?? [], files, folders: there, nested }, options, createdMs, hasher.digest));
  }
  return plans;
}

function lastPart(path: string): string {
  return path.split(/[/\\]/).findLast((part) => part !== '') ?? 'folder';
}
