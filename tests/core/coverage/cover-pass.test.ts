import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { coverLead, coverPass, framesCovered } from '../../../src/core/coverage/cover-pass.ts';
import type { NeededRange, PassCoverage } from '../../../src/core/coverage/coverage.ts';
import { lengthOf, pullRange } from '../../../src/core/timecode/range.ts';
import { takeOf } from './coverage-clips.ts';

const needed = (start: number, end: number, head = 8, tail = 8): NeededRange => ({
  lead: 'l.mov', shot: 's', basis: 'shot-list', cut: { start, end }, handles: { head, tail }, from: 'shots.csv line 4',
});

function figures(coverage: PassCoverage | undefined): readonly number[] {
  if (coverage === undefined) return [];
  const { missingHeadHandle, missingHead, missingTail, missingTailHandle } = coverage;
  return [missingHeadHandle, missingHead, missingTail, missingTailHandle];
}

describe('a pass under a needed range', () => {
  it.each([
    // frames of the pass, offset, and what is missing of head handle, head, tail, tail handle; the cut is 20 to 60 of the lead
    ['holds it all', 100, 0, [0, 0, 0, 0]],
    ['holds it to the frame', 56, -12, [0, 0, 0, 0]],
    ['lacks the last frame of the tail handle', 67, 0, [0, 0, 0, 1]],
    ['lacks the tail handle', 60, 0, [0, 0, 0, 8]],
    ['lacks the end of the cut', 50, 0, [0, 0, 10, 8]],
    ['lacks the head handle', 100, -20, [8, 0, 0, 0]],
    ['lacks the start of the cut', 100, -25, [8, 5, 0, 0]],
    ['is an island in the cut', 10, -30, [8, 10, 20, 8]],
    ['ends before it', 5, 0, [8, 0, 40, 8]],
    ['ends within the head handle', 15, 0, [5, 0, 40, 8]],
    ['begins after it', 100, -80, [8, 40, 0, 8]],
    ['begins within the tail handle', 100, -63, [8, 40, 0, 3]],
    ['is empty', 0, -30, [8, 10, 30, 8]],
    ['starts late in the pass', 100, 12, [0, 0, 0, 0]],
  ])('%s', (_, frames, offset, missing) => {
    expect(figures(coverPass(takeOf('p.mov', { frames }), 'swapped', offset, needed(20, 60)))).toEqual(missing);
  });

  it('lies where its offset puts it: frame of the pass = frame of the lead + offset', () => {
    expect(coverPass(takeOf('p.mov', { frames: 100 }), 'swapped', 12, needed(20, 60))?.available).toEqual({ start: -12, end: 88 });
    expect(Object.is(coverPass(takeOf('p.mov', { frames: 100 }), 'swapped', 0, needed(20, 60))?.available.start, 0)).toBe(true);
  });

  it('of unknown length cannot be told', () => {
    expect(coverPass(takeOf('p.mov'), 'clean', 0, needed(20, 60))).toBeUndefined();
  });

  it('the lead itself is measured by its own frames', () => {
    const coverage = coverLead(takeOf('l.mov', { frames: 50 }), needed(20, 60));
    expect(coverage).toMatchObject({ clip: 'l.mov', role: 'lead', available: { start: 0, end: 50 }, missingTail: 10 });
  });
});

describe('a sequence under a needed range', () => {
  // 1001 to 1100, of which 1031 to 1034 and 1090 to 1099 are absent: 86 files.
  const sequence = { first: 1001, last: 1100, padding: 4, missing: [{ start: 1031, end: 1035 }, { start: 1090, end: 1100 }] };
  const pass = takeOf('p.####.exr', { frames: 86, sequence });

  it('reaches from its first number to its last', () => {
    expect(coverPass(pass, 'swapped', 0, needed(20, 60))?.available).toEqual({ start: 0, end: 100 });
  });

  it('shows the holes that fall into the cut or its handles, in frames of the lead', () => {
    expect(coverPass(pass, 'swapped', 0, needed(20, 60))?.gaps).toEqual([{ start: 30, end: 34 }]);
    expect(coverPass(pass, 'swapped', 10, needed(20, 60))?.gaps).toEqual([{ start: 20, end: 24 }]);
    expect(coverPass(pass, 'swapped', 0, needed(32, 84))?.gaps).toEqual([{ start: 30, end: 34 }, { start: 89, end: 92 }]);
    expect(coverPass(pass, 'swapped', 0, needed(50, 60))?.gaps).toEqual([]);
  });
});

describe('covered and missing', () => {
  const hole = fc.tuple(fc.nat(150), fc.nat(20)).map(([start, length]) => ({ start, end: start + length + 1 }));
  const anyPass = fc.record({ frames: fc.nat(200), holes: fc.array(hole, { maxLength: 3 }) }).map(({ frames, holes }) => {
    // Holes lie between the first and the last file, and never touch.
    const inside = holes.filter((one, index) => one.start > 0 && one.end < frames - 1 && holes.slice(0, index).every((other) => one.end < other.start || other.end < one.start));
    return takeOf('p.####.exr', { frames, sequence: { first: 1001, last: 1000 + frames, padding: 4, missing: inside.map(({ start, end }) => ({ start: 1001 + start, end: 1001 + end })) } });
  });
  const anyNeed = fc.tuple(fc.integer({ min: -100, max: 200 }), fc.integer({ min: 1, max: 100 }), fc.nat(20), fc.nat(20)).map(([start, length, head, tail]) => needed(start, start + length, head, tail));
  const anyOffset = fc.integer({ min: -150, max: 150 });

  it('add up to what is asked for', () => {
    fc.assert(
      fc.property(anyPass, anyNeed, anyOffset, (pass, need, offset) => {
        const coverage = coverPass(pass, 'swapped', offset, need);
        if (coverage === undefined) throw new Error('the length is known');
        const covered = framesCovered(coverage);
        const inGaps = coverage.gaps.reduce((sum, gap) => sum + lengthOf(gap), 0);
        const missing = figures(coverage).reduce((sum, frames) => sum + frames, 0);
        expect(covered.cut + covered.handles + missing + inGaps).toBe(lengthOf(pullRange(need.cut, need.handles)));
      }),
    );
  });

  it('agree with counting frame by frame', () => {
    fc.assert(
      fc.property(anyPass, anyNeed, anyOffset, (pass, need, offset) => {
        const coverage = coverPass(pass, 'swapped', offset, need);
        if (coverage === undefined || pass.sequence === undefined) throw new Error('the length is known');
        const { first, last, missing } = pass.sequence;
        const there = (frame: number): boolean => {
          const number = first + frame + offset;
          return number >= first && number <= last && !missing.some(({ start, end }) => number >= start && number < end);
        };
        const count = (from: number, to: number): number => Array.from({ length: to - from }, (_, index) => from + index).filter(there).length;
        const { cut, handles } = need;
        expect(framesCovered(coverage)).toEqual({
          cut: count(cut.start, cut.end),
          handles: count(cut.start - handles.head, cut.start) + count(cut.end, cut.end + handles.tail),
        });
      }),
    );
  });

  it('do not change when lead and pass are both moved', () => {
    fc.assert(
      fc.property(anyPass, anyNeed, anyOffset, fc.integer({ min: -1000, max: 1000 }), (pass, need, offset, moved) => {
        const elsewhere: NeededRange = { ...need, cut: { start: need.cut.start + moved, end: need.cut.end + moved } };
        expect(figures(coverPass(pass, 'swapped', offset - moved, elsewhere))).toEqual(figures(coverPass(pass, 'swapped', offset, need)));
      }),
    );
  });
});
