import { createHash } from 'node:crypto';
import { createXXHash128, createXXHash3, createXXHash64 } from 'hash-wasm';
import type { HashFormat } from '../../formats/mhl/hash-format.ts';
import { c4FromSha512 } from '../../formats/mhl/hash-format.ts';
import { nativeXxhash } from './native-xxhash.ts';
import type { RunningHash } from './running-hash.ts';

/** A running digest of each format, native code where its prebuilt binary is there, WebAssembly and Node's own otherwise. */
export async function runningHashes(useNative = true): Promise<Readonly<Record<HashFormat, RunningHash>>> {
  const native = useNative ? nativeXxhash() : undefined;
  return {
    c4: builtIn('sha512', c4FromSha512),
    md5: builtIn('md5', (hex) => hex),
    sha1: builtIn('sha1', (hex) => hex),
    xxh128: native?.xxh128() ?? fromWasm(await createXXHash128()),
    xxh3: native?.xxh3() ?? fromWasm(await createXXHash3()),
    xxh64: native?.xxh64() ?? fromWasm(await createXXHash64()),
  };
}

function builtIn(name: 'md5' | 'sha1' | 'sha512', textOf: (hex: string) => string): RunningHash {
  let hash = createHash(name);
  return {
    start: () => void (hash = createHash(name)),
    add: (bytes) => void hash.update(bytes),
    end: () => textOf(hash.digest('hex')),
  };
}

function fromWasm(hash: Awaited<ReturnType<typeof createXXHash64>>): RunningHash {
  return {
    start: () => void hash.init(),
    add: (bytes) => void hash.update(bytes),
    end: () => hash.digest('hex'),
  };
}
