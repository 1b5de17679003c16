import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { byteDigest, textDigest } from '../../../src/formats/catalogue/digest.ts';
import { formatTagged, parseTagged } from '../../../src/formats/catalogue/tagged-json.ts';

describe('what the catalogue keeps', () => {
  it('comes back as it went in, numbers JSON cannot write among it', () => {
    const value = fc.letrec((tie) => ({
      tree: fc.oneof({ maxDepth: 4 }, fc.double(), fc.string(), fc.boolean(), fc.constant(null), fc.array(tie('tree')), fc.dictionary(fc.string().filter((key) => key !== '__proto__'), tie('tree'), { noNullPrototype: true })),
    })).tree;
    fc.assert(
      fc.property(value, (tree) => {
        expect(parseTagged(formatTagged(tree))).toEqual(tree);
      }),
    );
    expect(parseTagged(formatTagged([Infinity, -Infinity, Number.NaN, -0, 0]))).toEqual([Infinity, -Infinity, Number.NaN, -0, 0]);
  });

  it('is nothing when it was cut off in writing', () => {
    expect(parseTagged('{"a":[1,2')).toBeUndefined();
  });
});

describe('a digest', () => {
  it('tells texts and bytes apart, and is the same every time', () => {
    const texts = Array.from({ length: 20_000 }, (_, index) => `A001C${index} ${index * 7919}`);
    expect(new Set(texts.map(textDigest)).size).toBe(texts.length);
    expect(new Set(texts.map((text) => byteDigest(new TextEncoder().encode(text)))).size).toBe(texts.length);
    fc.assert(fc.property(fc.uint8Array(), fc.nat(), (bytes, place) => {
      const changed = bytes.slice();
      if (changed.length === 0) return;
      const at = place % changed.length;
      changed[at] = (changed[at] ?? 0) ^ 1;
      expect(byteDigest(changed)).not.toBe(byteDigest(bytes));
      expect(byteDigest(bytes.slice())).toBe(byteDigest(bytes));
    }));
  });
});
