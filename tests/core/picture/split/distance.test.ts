import fc from 'fast-check';
import { expect, it } from 'vitest';
import { distanceToMarked } from '../../../../src/core/picture/split/distance.ts';

it('gives the exact distance to the nearest marked pixel, as found by trying them all', () => {
  const shapes = fc.tuple(fc.integer({ min: 1, max: 9 }), fc.integer({ min: 1, max: 9 })).chain(([width, height]) =>
    fc.record({ width: fc.constant(width), height: fc.constant(height), marked: fc.array(fc.boolean(), { minLength: width * height, maxLength: width * height }) }));
  fc.assert(fc.property(shapes, ({ width, height, marked }) => {
    const found = distanceToMarked(Uint8Array.from(marked, Number), width, height, 5);
    for (let i = 0; i < width * height; i++) {
      const tried = marked.map((is, j) => (is ? Math.hypot((i % width) - (j % width), Math.floor(i / width) - Math.floor(j / width)) : Infinity));
      expect(found[i]).toBeCloseTo(Math.min(5, ...tried), 4);
    }
  }));
});
