import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { explainFailure } from '../../../src/adapters/filesystem/explain-failure.ts';
import { FileHasher } from '../../../src/adapters/hash/file-hasher.ts';
import { nativeXxhash } from '../../../src/adapters/hash/native-xxhash.ts';
import { runningHashes } from '../../../src/adapters/hash/running-hashes.ts';
import { UnreachableFileError } from '../../../src/core/material/errors.ts';
import type { HashFormat } from '../../../src/formats/mhl/hash-format.ts';
import { HASH_FORMATS } from '../../../src/formats/mhl/hash-format.ts';
import { outsideProgram } from '../../support/outside.ts';

const text = (words: string): Uint8Array => new TextEncoder().encode(words);

/**
 * The bytes of the xxHash project's own sanity checks (tests/sanity_test.c, BSD-2): a 64-bit generator, its highest byte taken,
 * multiplied by itself each time.
 */
function sanityBytes(length: number): Uint8Array {
  return SANITY.subarray(0, length);
}

const SANITY = ((): Uint8Array => {
  const bytes = new Uint8Array((5 << 19) + 3);
  let generator = 2654435761n;
  for (let index = 0; index < bytes.length; index++) {
    bytes[index] = Number(generator >> 56n);
    generator = (generator * 11400714785074694797n) & 0xffffffffffffffffn;
  }
  return bytes;
})();

/** Published digests: RFC 1321 A.5, RFC 3174 7.3, FIPS 180 examples, and the sanity checks of xxHash 0.8. */
const PUBLISHED: readonly (readonly [HashFormat, Uint8Array, string])[] = [
  ['md5', text(''), 'd41d8cd98f00b204e9800998ecf8427e'],
  ['md5', text('a'), '0cc175b9c0f1b6a831c399e269772661'],
  ['md5', text('abc'), '900150983cd24fb0d6963f7d28e17f72'],
  ['md5', text('message digest'), 'f96b697d7cb7938d525a2f31aaf161d0'],
  ['md5', text('abcdefghijklmnopqrstuvwxyz'), 'c3fcd3d76192e4007dfb496cca67e13b'],
  ['md5', text('12345678901234567890123456789012345678901234567890123456789012345678901234567890'), '57edf4a22be3c955ac49da2e2107b67a'],
  ['sha1', text('abc'), 'a9993e364706816aba3e25717850c26c9cd0d89d'],
  ['sha1', text('abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq'), '84983e441c3bd26ebaae4aa1f95129e5e54670f1'],
  ['sha1', text('a'.repeat(1_000_000)), '34aa973cd4c4daa4f61eeb2bdbad27316534016f'],
  ['xxh64', text(''), 'ef46db3751d8e999'],
  ['xxh64', sanityBytes(1), 'e934a84adb052768'],
  ['xxh64', sanityBytes(4), '9136a0dca57457ee'],
  ['xxh64', sanityBytes(14), '8282dcc4994e35c8'],
  ['xxh64', sanityBytes(222), 'b641ae8cb691c174'],
  ['xxh3', text(''), '2d06800538d394c2'],
  ['xxh128', text(''), '99aa06d3014798d86001c324468d497f'],
];

describe.each([
  ['with native code where it is there', true],
  ['with WebAssembly alone', false],
])('hashing %s', (_how, useNative) => {
  it.each(PUBLISHED)('gives the published %s digest', async (format, bytes, digest) => {
    const { [format]: hash } = await runningHashes(useNative);
    hash.start();
    hash.add(bytes);
    expect(hash.end()).toBe(digest);
  });
});

describe('the native package', () => {
  it('is there on machines of its kind, or what it speeds up is not tested at all', () => {
    expect(nativeXxhash() !== undefined || process.env['CI'] !== 'true').toBe(true);
  });

  it('agrees with WebAssembly at every length around the ends of its blocks, in pieces of any size', async () => {
    const [native, wasm] = await Promise.all([runningHashes(true), runningHashes(false)]);
    const bytes = sanityBytes(3000);
    for (const length of [0, 1, 3, 4, 8, 15, 16, 17, 31, 32, 33, 63, 64, 65, 128, 129, 240, 241, 255, 256, 257, 1023, 1024, 1025, 2999]) {
      for (const format of ['xxh64', 'xxh3', 'xxh128'] as const) {
        const digests = [native[format], wasm[format]].map((hash, index) => {
          hash.start();
          const piece = index === 0 ? 7 : 64;
          for (let start = 0; start < length; start += piece) hash.add(bytes.subarray(start, Math.min(length, start + piece)));
          return hash.end();
        });
        expect(digests[0], `${format} of ${length} bytes`).toBe(digests[1]);
      }
    }
  });
});

describe('hashing files', () => {
  let folder = '';
  let hasher: FileHasher;
  const signal = new AbortController().signal;
  const path = (name: string): string => join(folder, name);
  /** Empty, small, a byte to either side of one piece, and two pieces and a bit. */
  const SIZES = [0, 5, (1 << 20) - 1, 1 << 20, (1 << 20) + 1, (5 << 19) + 3];

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'gemel-hash-'));
    for (const size of SIZES) writeFileSync(path(`${size}.bin`), sanityBytes(size));
    hasher = await FileHasher.open({ explain: explainFailure });
  });
  afterAll(async () => {
    await hasher[Symbol.asyncDispose]();
    rmSync(folder, { recursive: true, force: true });
  });

  const OUTSIDE: readonly (readonly [HashFormat, string, readonly string[]])[] = [
    ['xxh64', 'xxhsum', ['-H64']],
    ['xxh3', 'xxhsum', ['-H3']],
    ['xxh128', 'xxhsum', ['-H128']],
    ['md5', 'md5sum', []],
    ['sha1', 'sha1sum', []],
  ];
  for (const [format, program, args] of OUTSIDE) {
    it.skipIf(!outsideProgram(program))(`gives the same ${format} as ${program} for files of every size`, async () => {
      for (const size of SIZES) {
        const line = execFileSync(program, [...args, path(`${size}.bin`)], { encoding: 'utf8' });
        const theirs = /\b(?:XXH3_)?([0-9a-f]{16,40})\b/.exec(line)?.[1];
        const { digests, sizeBytes } = await hasher.hashFile(path(`${size}.bin`), [format], signal, () => {});
        expect(digests[format], `${size} bytes`).toBe(theirs);
        expect(sizeBytes).toBe(size);
      }
    });
  }

  it('gives all formats of one pass the digests each has alone, and tells of every byte once', async () => {
    for (const size of SIZES) {
      let told = 0;
      const { digests } = await hasher.hashFile(path(`${size}.bin`), HASH_FORMATS, signal, (bytes) => (told += bytes));
      expect(told).toBe(size);
      for (const format of HASH_FORMATS) expect(digests[format], `${format} of ${size}`).toBe(hasher.digest(format, sanityBytes(size)));
    }
  });

  it('hashes many files at once, each its own', async () => {
    const paths = Array.from({ length: 24 }, (_, index) => path(`${SIZES[index % SIZES.length] ?? 0}.bin`));
    const hashed = await Promise.all(paths.map(async (one) => hasher.hashFile(one, ['xxh64'], signal, () => {})));
    hashed.forEach(({ digests }, index) => expect(digests.xxh64).toBe(hasher.digest('xxh64', sanityBytes(SIZES[index % SIZES.length] ?? 0))));
  });

  it('follows no link, and says in words what cannot be read', async () => {
    symlinkSync(path('5.bin'), path('link.bin'));
    await expect(hasher.hashFile(path('link.bin'), ['xxh64'], signal, () => {})).rejects.toThrow('it is a link');
    await expect(hasher.hashFile(path('gone.bin'), ['xxh64'], signal, () => {})).rejects.toThrow(UnreachableFileError);
    await expect(hasher.hashFile(folder, ['xxh64'], signal, () => {})).rejects.toThrow(UnreachableFileError);
  });

  it('stops in the midst of files, here and on a thread, and can go on with others', async () => {
    const long = path('long.bin');
    writeFileSync(long, Buffer.alloc(200 << 20));
    const controller = new AbortController();
    const both = [0, 1].map(async () => hasher.hashFile(long, ['md5'], controller.signal, () => controller.abort(new Error('enough'))));
    expect((await Promise.allSettled(both)).map((one) => (one.status === 'rejected' ? String(one.reason) : one.status))).toEqual(['Error: enough', 'Error: enough']);
    const again = await Promise.all([0, 1].map(async () => hasher.hashFile(path(`${1 + (1 << 20)}.bin`), ['md5'], signal, () => {})));
    for (const { digests } of again) expect(digests.md5).toBe(hasher.digest('md5', sanityBytes(1 + (1 << 20))));
  });

  it('starts no thread for little work, and hashes all the same', async () => {
    await using alone = await FileHasher.open({ explain: explainFailure });
    alone.expect(5 << 20, ['xxh64']);
    const hashed = await Promise.all([0, 1, 2].map(async () => alone.hashFile(path(`${(5 << 19) + 3}.bin`), ['xxh64'], signal, () => {})));
    for (const { digests } of hashed) expect(digests.xxh64).toBe(hasher.digest('xxh64', sanityBytes((5 << 19) + 3)));
  });
});
