import { lstat } from 'node:fs/promises';
import { explainFailure } from '../../adapters/filesystem/explain-failure.ts';
import { FileHasher } from '../../adapters/hash/file-hasher.ts';
import { textDigest } from '../../formats/catalogue/digest.ts';
import type { HashFormat } from '../../formats/mhl/hash-format.ts';
import type { Catalogue, HashedFile, Hasher, JobHands } from '../../ports.ts';
import { gemelVersion } from '../assets.ts';
import { assertVersion } from './assert-version.ts';
import type { FarmHands } from './farm-hands.ts';
import type { Mounts, SharedPath } from './mounts.ts';
import { fromShared, toShared } from './mounts.ts';

/** Under this the catalogue keeps digests, until whoever asked has seen them. */
const HASHED = 'hashed';
/** A smaller file is hashed sooner than asked for. */
const WORTH_ASKING_BYTES = 64 * 1024 * 1024;
/** Files that wait for the farm at a time: enough for a hundred hands or so. */
const ASKED_AT_ONCE = 128;

interface HashWork {
  readonly version: string;
  readonly key: string;
  readonly at: SharedPath;
  readonly signature: string;
  readonly formats: readonly HashFormat[];
}

/** What hashing on a farm needs besides. */
export interface HashingFarm extends FarmHands {
  readonly catalogue: Catalogue;
  /** Names one verification, and no other ever: digests of another run would prove nothing about the bytes of today. */
  readonly run: string;
  readonly worthAskingBytes?: number;
}

/** Has large files hashed by the workers of a farm, each read anew for this run; small ones, and what did not come about, are hashed here. */
export function hasherOnFarm(own: Hasher, { farm, mounts, catalogue, run, worthAskingBytes = WORTH_ASKING_BYTES }: HashingFarm): Hasher {
  const ask = async (path: string, formats: readonly HashFormat[], signal: AbortSignal): Promise<HashedFile | undefined> => {
    const signature = await signatureAt(path);
    if (signature === undefined) return undefined;
    const key = textDigest([run, path, ...formats].join('\n'));
    const work: HashWork = { version: gemelVersion(), key, at: toShared(path, mounts), signature, formats };
    await farm.have('hash', [{ key, work: JSON.stringify(work) }], signal);
    const text = (await catalogue.find(HASHED, [key])).get(key);
    await catalogue.forget(HASHED, [key]);
    // What changed meanwhile is hashed here, as it is now.
    return text === undefined || (await signatureAt(path)) !== signature ? undefined : asHashed(JSON.parse(text));
  };
  return {
    filesAtOnce: ASKED_AT_ONCE,
    digest: own.digest,
    expect: (bytes, formats) => own.expect(bytes, formats),
    hashFile: async (path, formats, signal, advance) => {
      const size = (await lstat(path).catch(() => undefined))?.size ?? 0;
      const hashed = size < worthAskingBytes ? undefined : await ask(path, formats, signal);
      if (hashed === undefined) return own.hashFile(path, formats, signal, advance);
      advance(hashed.sizeBytes);
      return hashed;
    },
  };
}

/** A worker that hashes files; `did` hears of each. Close it when it is no longer needed. */
export function hashingHands(catalogue: Catalogue, mounts: Mounts, atOnce: number, did: (files: number) => void): JobHands & { close(): Promise<void> } {
  let opening: Promise<FileHasher> | undefined;
  return {
    atOnce,
    work: async (text, signal) => {
      opening ??= FileHasher.open({ explain: explainFailure });
      await doHashWork(asHashWork(JSON.parse(text)), { catalogue, mounts, hasher: await opening }, signal);
      did(1);
    },
    close: async () => (await opening)?.[Symbol.asyncDispose](),
  };
}

async function doHashWork({ version, key, at, signature, formats }: HashWork, { catalogue, mounts, hasher }: { readonly catalogue: Catalogue; readonly mounts: Mounts; readonly hasher: Hasher }, signal: AbortSignal): Promise<void> {
  assertVersion(version);
  const path = fromShared(at, mounts);
  if ((await signatureAt(path)) !== signature) throw new Error(`${at.path} is not as it was found: it changed, or the machines see different files`);
  hasher.expect(Number.MAX_SAFE_INTEGER, formats);
  const hashed = await hasher.hashFile(path, formats, signal, () => {});
  if ((await signatureAt(path)) !== signature) throw new Error(`${at.path} changed while it was read`);
  await catalogue.keep(HASHED, new Map([[key, JSON.stringify(hashed)]]));
}

/** Size and time of change; undefined when it is no file. */
async function signatureAt(path: string): Promise<string | undefined> {
  const facts = await lstat(path).catch(() => undefined);
  return facts?.isFile() === true ? `${facts.size}-${facts.mtimeMs}` : undefined;
}

function asHashWork(value: unknown): HashWork {
  const isWork = typeof value === 'object' && value !== null && 'key' in value && 'at' in value && 'signature' in value && 'formats' in value && Array.isArray(value.formats);
  if (!isWork) throw new Error('this is no hashing job');
  return value as HashWork;
}

/** Only workers of this version write these. */
function asHashed(value: unknown): HashedFile | undefined {
  const isHashed = typeof value === 'object' && value !== null && 'sizeBytes' in value && 'digests' in value;
  return isHashed ? (value as HashedFile) : undefined;
}
