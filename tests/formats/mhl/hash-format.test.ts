import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { runningHashes } from '../../../src/adapters/hash/running-hashes.ts';
import { c4FromSha512, digestBytes, digestFault } from '../../../src/formats/mhl/hash-format.ts';

const hexOf = (bytes: Uint8Array): string => Buffer.from(bytes).toString('hex');

describe('C4', () => {
  it.each([
    // The test vectors of the C4 framework (SMPTE ST 2114 names the same algorithm).
    ['', 'c459dsjfscH38cYeXXYogktxf4Cd9ibshE3BHUo6a58hBXmRQdZrAkZzsWcbWtDg5oQstpDuni4Hirj75GEmTc1sFT'],
    ['alfa', 'c43zYcLni5LF9rR4Lg4B8h3Jp8SBwjcnyyeh4bc6gTPHndKuKdjUWx1kJPYhZxYt3zV6tQXpDs2shPsPYjgG81wZM1'],
    // ascmitc/mhl, tests of the reference implementation.
    ['media-hash-list', 'c456LycWwpMMS7VDZEKvYv2L1uJS6s4qAFnaJdnQiy5JVbBFZMA8aLDS6SPaJjLqxXH4qZdnbuktopMt9frtC2qL1R'],
  ])('of "%s" is the published one', async (text, id) => {
    const { c4 } = await runningHashes();
    c4.start();
    c4.add(new TextEncoder().encode(text));
    expect(c4.end()).toBe(id);
  });

  it('goes back to the very 64 bytes it was made of, those that begin with zeros too', () => {
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 64, maxLength: 64 }), fc.nat(64), (bytes, zeros) => {
        bytes.fill(0, 0, zeros);
        const id = c4FromSha512(hexOf(bytes));
        expect(id).toHaveLength(90);
        expect(hexOf(digestBytes('c4', id))).toBe(hexOf(bytes));
      }),
    );
  });

  it('is refused with another length, a sign that is not in base 58, or a value beyond 512 bits', () => {
    const zero = `c4${'1'.repeat(88)}`;
    expect(digestFault('c4', zero)).toBeUndefined();
    for (const wrong of ['', 'c4', zero.slice(1), `${zero}1`, zero.replace('11', '10'), zero.replace('11', '1l'), `c4${'z'.repeat(88)}`, `C4${'1'.repeat(88)}`]) {
      expect(digestFault('c4', wrong), wrong).toBeDefined();
      expect(() => digestBytes('c4', wrong)).toThrow(RangeError);
    }
  });
});

describe('a digest in hex', () => {
  it.each([
    ['md5', 32],
    ['sha1', 40],
    ['xxh128', 32],
    ['xxh3', 16],
    ['xxh64', 16],
  ] as const)('of %s has %i lower-case digits and nothing else', (format, length) => {
    expect(digestFault(format, 'a'.repeat(length))).toBeUndefined();
    for (const wrong of ['a'.repeat(length - 1), 'a'.repeat(length + 1), 'A'.repeat(length), 'g'.repeat(length), ` ${'a'.repeat(length - 1)}`]) expect(digestFault(format, wrong), wrong).toBeDefined();
  });
});
