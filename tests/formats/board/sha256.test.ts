import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sha256 } from '../../../src/formats/board/sha256.ts';
import { scriptSource } from '../../../src/formats/board/script.ts';

describe('SHA-256', () => {
  it.each([
    // FIPS 180-2, appendix B.1 and B.2; the empty message from NIST's SHA test vectors for hashing byte-oriented messages.
    ['', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
    ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
    ['abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq', '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1'],
  ])('of %j is as published', (text, digest) => {
    expect(Buffer.from(sha256(new TextEncoder().encode(text))).toString('hex')).toBe(digest);
  });

  it('agrees with OpenSSL on any bytes, around every edge of a block', () => {
    fc.assert(fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => {
      expect(Buffer.from(sha256(bytes))).toEqual(createHash('sha256').update(bytes).digest());
    }));
  });
});

describe('the name of a script in a policy', () => {
  it('is the one of the example in the specification', () => {
    // CSP Level 3, section 8.3 (usage of hashes): alert('Hello, world.');
    expect(scriptSource("alert('Hello, world.');")).toBe("'sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng='");
  });

  it('refuses what is not ASCII, whose digest would depend on the encoding', () => {
    expect(() => scriptSource('alert("ü")')).toThrow('ASCII');
    expect(() => scriptSource('alert("Ā")')).toThrow('ASCII');
  });

});
