import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { comparePasses } from '../../../src/core/checks/along-take.ts';
import type { Clip } from '../../../src/core/material/clip.ts';
import type { FrameTrack } from '../../../src/core/material/statement.ts';
import { ASSUMED, SYNCED, chosen } from '../../support/make-matched.ts';
import { passesOf } from './make-passes.ts';

const FOCUS = {
  what: 'focus',
  start: ({ lens }: Clip) => lens.focusDistanceM,
  track: 'focusDistance',
  apart: (a: number, b: number) => Math.abs(a - b),
} as const;

function tracked(values: readonly number[]): Partial<Clip> {
  const track: FrameTrack = { source: { kind: 'report', file: 'lens.csv', place: '' }, frames: values.length, values: { focusDistance: values }, stopKind: 'unknown' };
  const [first = Number.NaN] = values;
  return { tracks: [track], lens: Number.isNaN(first) ? {} : { focusDistanceM: chosen(first) } };
}

const ramp = (from: number, frames: number): readonly number[] => Array.from({ length: frames }, (_, frame) => from + frame);

describe('a value that changes along a take', () => {
  it('is compared frame by frame under the sync', () => {
    const lead = tracked(ramp(100, 240));
    // The pass pulls focus in the same way, but its clip begins 20 frames earlier.
    const pass = tracked(ramp(80, 300));
    expect(comparePasses(passesOf(lead, pass, { sync: { ...SYNCED, offset: 20 } }), FOCUS)?.difference).toBe(0);
    expect(comparePasses(passesOf(lead, pass, { sync: { ...SYNCED, offset: 0 } }), FOCUS)?.difference).toBe(20);
  });

  it('names the frame where it lies furthest apart, and both places it was read', () => {
    const pass = ramp(100, 240).map((value, frame) => (frame >= 50 && frame < 60 ? value + 7 : value));
    const apart = comparePasses(passesOf(tracked(ramp(100, 240)), tracked(pass)), FOCUS);
    expect([apart?.difference, apart?.lead, apart?.pass, apart?.where]).toEqual([7, 150, 157, 'at frame 50 of the lead (counted from 0)']);
    expect(apart?.evidence()).toEqual(['A, focus at frame 50: lens.csv', 'B, focus at frame 50: lens.csv']);
  });

  it('overlooks glitches of one or two frames, but not what holds for three', () => {
    const spoilt = (frames: number): number | undefined => {
      const pass = ramp(100, 240).map((value, frame) => (frame >= 50 && frame < 50 + frames ? value + 7 : value));
      return comparePasses(passesOf(tracked(ramp(100, 240)), tracked(pass)), FOCUS)?.difference;
    };
    expect([spoilt(1), spoilt(2), spoilt(3)]).toEqual([0, 0, 7]);
  });

  it('leaves out frames without a value, and frames that no shot needs', () => {
    const holes = ramp(100, 240).map((value, frame) => (frame % 2 === 0 ? Number.NaN : value));
    expect(comparePasses(passesOf(tracked(ramp(100, 240)), tracked(holes)), FOCUS)?.difference).toBe(0);
    const late = ramp(100, 240).map((value, frame) => (frame >= 200 ? value + 7 : value));
    expect(comparePasses(passesOf(tracked(ramp(100, 240)), tracked(late), { frames: { start: 0, end: 200 } }), FOCUS)?.difference).toBe(0);
  });

  it('is compared at the first frames when the sync is a guess, and says so', () => {
    const apart = comparePasses(passesOf(tracked(ramp(100, 240)), tracked(ramp(80, 300)), { sync: ASSUMED }), FOCUS);
    expect([apart?.difference, apart?.where]).toEqual([20, 'at the first frame']);
    expect(apart?.evidence().at(-1)).toBe('focus: only the first frames compared, though it is on record along a take');
  });

  it('is compared at the first frames when only one take has it frame by frame', () => {
    const apart = comparePasses(passesOf(tracked(ramp(100, 240)), { lens: { focusDistanceM: chosen(103) } }), FOCUS);
    expect([apart?.difference, apart?.where]).toEqual([3, 'at the first frame']);
  });

  it('begins with the first frame on record along the take where nothing else tells', () => {
    const apart = comparePasses(passesOf({ ...tracked([Number.NaN, 5, 6]), lens: {} }, { lens: { focusDistanceM: chosen(9) } }), FOCUS);
    expect([apart?.difference, apart?.evidence()[0]]).toEqual([4, 'A, focus along the take: lens.csv']);
  });

  it('is not compared when it is not on record for both', () => {
    expect(comparePasses(passesOf(tracked(ramp(100, 240)), {}), FOCUS)).toBeUndefined();
    expect(comparePasses(passesOf({}, {}), FOCUS)).toBeUndefined();
  });

  it('compares what there is when fewer than three frames lie over each other', () => {
    expect(comparePasses(passesOf(tracked([1, 2]), tracked([1, 6])), FOCUS)?.difference).toBe(4);
  });

  it('never measures more than the largest difference of any frame, nor anything that is no number', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: -50, max: 50 }), { minLength: 1, maxLength: 40 }), fc.array(fc.double({ min: -50, max: 50 }), { minLength: 1, maxLength: 40 }), fc.integer({ min: -10, max: 10 }), (a, b, offset) => {
        const apart = comparePasses(passesOf(tracked(a), tracked(b), { sync: { ...SYNCED, offset } }), FOCUS);
        const all = a.map((value, frame) => Math.abs(value - (b[frame + offset] ?? Number.NaN))).filter((value) => Number.isFinite(value));
        const starts = [a, b].map((values) => values.find((value) => !Number.isNaN(value)));
        if (all.length === 0 && starts.includes(undefined)) {
          expect(apart).toBeUndefined();
          return;
        }
        const most = all.length === 0 ? 100 : Math.max(...all);
        expect(apart?.difference).toBeLessThanOrEqual(most);
        expect(Number.isFinite(apart?.difference)).toBe(true);
      }),
    );
  });
});
