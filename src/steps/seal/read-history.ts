import { UnreachableFileError, UnreadableXmlError } from '../../core/material/errors.ts';
import type { ReadingProblem } from '../../core/material/finding.ts';
import type { Generation, History } from '../../formats/mhl/history.ts';
import { assembleHistory } from '../../formats/mhl/history.ts';
import type { ChainEntry } from '../../formats/mhl/manifest.ts';
import { CHAIN_FILE, HISTORY_FOLDER } from '../../formats/mhl/manifest.ts';
import { parseChain } from '../../formats/mhl/parse-chain.ts';
import { parseManifest } from '../../formats/mhl/parse-manifest.ts';
import { problemLog } from '../../formats/mhl/problem-log.ts';
import type { FolderEntry, XmlElement } from '../../ports.ts';
import type { Scope } from './scopes.ts';
import { within } from './scopes.ts';
import type { VerifyPorts } from './seal-ports.ts';

/** A list of 200,000 files takes about half of this. */
const MOST_BYTES = 128 * 1024 * 1024;

/** A scope's history as it was read. */
export interface ReadHistory {
  readonly history: History;
  readonly generations: readonly Generation[];
  readonly chain: readonly ChainEntry[];
  readonly problems: readonly ReadingProblem[];
  /** C4 of every manifest that was read, by name: what parents refer to. */
  readonly c4: ReadonlyMap<string, string>;
}

/** Reads a scope's chain and every generation, and holds each against the chain. Nothing that is wrong ends it. */
export async function readHistory(scope: Scope, ports: VerifyPorts, signal: AbortSignal): Promise<ReadHistory> {
  const files = scope.history ?? new Map<string, FolderEntry>();
  const at = (name: string): string => within(scope.path, `${HISTORY_FOLDER}/${name}`);
  const problems: ReadingProblem[] = [...strangers(files, at)];
  const chain = await readChain(files.get(CHAIN_FILE), at(CHAIN_FILE), ports, signal);
  problems.push(...chain.problems);
  const listed = chain.entries ?? unchained(files);
  const generations: Generation[] = [];
  const c4 = new Map<string, string>();
  for (const [index, entry] of listed.entries()) {
    const file = at(entry.path);
    const read = await readDocument(files.get(entry.path), file, ports, signal);
    problems.push(...read.problems);
    if (read.bytes !== undefined) {
      const own = ports.hasher.digest('c4', read.bytes);
      c4.set(entry.path, own);
      if (entry.c4 !== '' && own !== entry.c4) problems.push(altered(file, own, entry.c4));
    }
    if (read.root === undefined) continue;
    const parsed = parseManifest(read.root, file);
    problems.push(...parsed.problems);
    if (parsed.manifest !== undefined) generations.push({ sequence: index + 1, file, manifest: parsed.manifest });
  }
  if (chain.entries !== undefined) problems.push(...unlisted(files, new Set(listed.map(({ path }) => path)), at));
  const history = assembleHistory(generations);
  problems.push(...history.strayRenames.flatMap(({ file, path, previousPath }) => strayRename(file, path, previousPath)));
  return { history, generations, chain: chain.entries ?? [], problems, c4 };
}

async function readChain(entry: FolderEntry | undefined, file: string, ports: VerifyPorts, signal: AbortSignal): Promise<{ readonly entries?: readonly ChainEntry[]; readonly problems: readonly ReadingProblem[] }> {
  const read = await readDocument(entry, file, ports, signal);
  if (read.root === undefined) return { problems: read.problems };
  const { entries, problems } = parseChain(read.root, file);
  return entries.length === 0 ? { problems } : { entries, problems };
}

interface ReadDocument {
  readonly bytes?: Uint8Array;
  readonly root?: XmlElement;
  readonly problems: readonly ReadingProblem[];
}

async function readDocument(entry: FolderEntry | undefined, file: string, { store, xml }: VerifyPorts, signal: AbortSignal): Promise<ReadDocument> {
  const log = problemLog(file);
  const said = (found: string, expected: string): ReadDocument => {
    log.invalid('stop', '', found, expected);
    return { problems: log.problems };
  };
  if (entry === undefined) return said('it is not there', 'every file of the history');
  if (entry.kind === 'link') {
    log.unsafe('', 'a link', 'an ordinary file');
    return { problems: log.problems };
  }
  let bytes: Uint8Array | undefined;
  try {
    bytes = await store.readWhole(entry.path, MOST_BYTES, signal);
    return { bytes, root: xml.parse(bytes), problems: [] };
  } catch (failure) {
    if (failure instanceof UnreachableFileError) return said(failure.reason, 'a file that can be read');
    if (failure instanceof UnreadableXmlError) return { ...said(failure.message, 'well-formed XML'), ...(bytes === undefined ? {} : { bytes }) };
    throw failure;
  }
}

/** Without a chain the manifests still tell something: in the order of their names, held against nothing. */
function unchained(files: ReadonlyMap<string, FolderEntry>): readonly ChainEntry[] {
  return [...files.keys()].filter(isManifestName).toSorted().map((path, index) => ({ sequence: index + 1, path, c4: '' }));
}

function isManifestName(name: string): boolean {
  return name.endsWith('.mhl') && !name.startsWith('._');
}

function altered(file: string, own: string, expected: string): ReadingProblem {
  return {
    code: 'manifest-invalid', severity: 'stop', file, place: '', found: `${own}: it was altered after it was written`, expected: `${expected}, as the chain has it`,
    remedy: 'trust nothing it says; ask whoever wrote it for the folder and its history again',
  };
}

function unlisted(files: ReadonlyMap<string, FolderEntry>, listed: ReadonlySet<string>, at: (name: string) => string): readonly ReadingProblem[] {
  const names = [...files.keys()].filter((name) => isManifestName(name) && !listed.has(name)).toSorted();
  return names.map((name) => ({
    code: 'manifest-invalid', severity: 'warn', file: at(name), place: '', found: 'a manifest the chain does not list; it was not used', expected: 'every manifest in the chain',
    remedy: 'ask whoever wrote it whether the chain is older than it should be',
  }));
}

/** What does not belong into a history's folder, and is covered by no digest there. */
function strangers(files: ReadonlyMap<string, FolderEntry>, at: (name: string) => string): readonly ReadingProblem[] {
  const belongs = (name: string): boolean => name.endsWith('.mhl') || name === CHAIN_FILE || name === 'ascmhl_collection.xml' || /^readme(\.txt)?$/i.test(name) || name.startsWith('.');
  return [...files].filter(([name, { kind }]) => kind !== 'folder' && !belongs(name)).map(([name]) => ({
    code: 'file-extra', severity: 'warn', file: at(name), place: '', found: 'a file that is no part of a history', expected: 'manifests and the chain alone', remedy: 'ask what it is; nothing vouches for it',
  }));
}

function strayRename(file: string, path: string, previousPath: string): readonly ReadingProblem[] {
  const log = problemLog(file);
  log.invalid('warn', path, `renamed from ${previousPath}, which no generation before it knew`, 'a path of the generation before');
  return log.problems;
}
