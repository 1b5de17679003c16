import { createRequire } from 'node:module';
import type * as NodeRs from '@node-rs/xxhash';
import type { RunningHash } from './running-hash.ts';

/** What of the native package is used. 64-bit digests come as numbers, so leading zeros are put back. */
export interface NativeXxhash {
  xxh64(): RunningHash;
  xxh3(): RunningHash;
}

type Package = typeof NodeRs;

/** The native hashes, or undefined where no prebuilt binary fits this machine (it is an optional package). */
export function nativeXxhash(): NativeXxhash | undefined {
  const loaded = load();
  if (loaded === undefined) return undefined;
  return {
    xxh64: () => running(() => new loaded.Xxh64()),
    xxh3: () => running(() => loaded.xxh3.Xxh3.withSeed()),
  };
}

let found: { readonly loaded: Package | undefined } | undefined;

function load(): Package | undefined {
  found ??= { loaded: tryToLoad() };
  return found.loaded;
}

function tryToLoad(): Package | undefined {
  try {
    // The package answers for its own types; what cannot be loaded here throws.
    return createRequire(import.meta.url)('@node-rs/xxhash') as Package;
  } catch {
    return undefined;
  }
}

function running(make: () => { update(bytes: Uint8Array): unknown; digest(): bigint }): RunningHash {
  let hash = make();
  return {
    start: () => void (hash = make()),
    add: (bytes) => void hash.update(bytes),
    end: () => hash.digest().toString(16).padStart(16, '0'),
  };
}
