import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { frameRange, holds, lastFrame, lengthOf, overlap, pullRange, shiftRange } from '../../../src/core/timecode/range.ts';

const anyRange = fc.tuple(fc.integer({ min: -500, max: 500 }), fc.nat(200)).map(([start, length]) => frameRange(start, start + length));
const inside = (frame: number, { start, end }: { start: number; end: number }): boolean => frame >= start && frame < end;

describe('a range of frames', () => {
  it('has an exclusive end, and a last frame people read', () => {
    const range = frameRange(48, 132);
    expect([lengthOf(range), lastFrame(range)]).toEqual([84, 131]);
  });

  it('grows by its handles and moves to another zero', () => {
    expect(pullRange(frameRange(48, 132), { head: 8, tail: 12 })).toEqual({ start: 40, end: 144 });
    expect(shiftRange(frameRange(48, 132), -48)).toEqual({ start: 0, end: 84 });
  });

  it.each([[1.5, 2], [0, Number.NaN], [0, Infinity], [2, 1]])('is not made of %d to %d', (start, end) => {
    expect(() => frameRange(start, end)).toThrow(RangeError);
  });

  it('overlaps another in the frames that are in both', () => {
    fc.assert(
      fc.property(anyRange, anyRange, fc.integer({ min: -600, max: 800 }), (a, b, frame) => {
        const both = overlap(a, b);
        expect(both !== undefined && inside(frame, both)).toBe(inside(frame, a) && inside(frame, b));
        expect(overlap(b, a)).toEqual(both);
      }),
    );
  });

  it('holds another when no frame of it lies outside', () => {
    fc.assert(
      fc.property(anyRange, anyRange, (outer, inner) => {
        const frames = Array.from({ length: lengthOf(inner) }, (_, index) => inner.start + index);
        expect(holds(outer, inner)).toBe(frames.every((frame) => inside(frame, outer)));
      }),
    );
  });
});
