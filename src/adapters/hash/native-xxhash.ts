import { Buffer } from 'node:buffer';
import { createRequire } from 'node:module';
import type * as Addon from 'xxhash-addon';
import type { RunningHash } from './running-hash.ts';

/** What of the native package is used. */
export interface NativeXxhash {
  xxh64(): RunningHash;
  xxh3(): RunningHash;
  xxh128(): RunningHash;
}

type Package = typeof Addon;

/** The native hashes, or undefined where no prebuilt binary fits this machine (it is an optional package). */
export function nativeXxhash(): NativeXxhash | undefined {
  const loaded = load();
  if (loaded === undefined) return undefined;
  return {
    xxh64: () => running(new loaded.XXHash64(NO_SEED)),
    xxh3: () => running(new loaded.XXHash3(NO_SEED)),
    xxh128: () => running(new loaded.XXHash128(NO_SEED)),
  };
}

const NO_SEED = Buffer.alloc(8);

let found: { readonly loaded: Package | undefined } | undefined;

function load(): Package | undefined {
  found ??= { loaded: tryToLoad() };
  return found.loaded;
}

function tryToLoad(): Package | undefined {
  try {
    // The package answers for its own types; what cannot be loaded here throws.
    return createRequire(import.meta.url)('xxhash-addon') as Package;
  } catch {
    return undefined;
  }
}

/** Its digests are in the canonical order of bytes already. */
function running(hash: Addon.XXHash): RunningHash {
  return {
    start: () => hash.reset(),
    add: (bytes) => hash.update(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength)),
    end: () => hash.digest().toString('hex'),
  };
}
