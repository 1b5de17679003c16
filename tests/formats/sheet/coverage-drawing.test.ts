import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { NeededRange, PassCoverage } from '../../../src/core/coverage/coverage.ts';
import { coverageDrawing, coverWords, missingParts, shownNeeds } from '../../../src/formats/sheet/coverage-drawing.ts';
import { brokenSplit, clearSplit, finding, headReplacement } from '../../support/make-judged.ts';

function cover(over: Partial<PassCoverage> & { readonly needed: NeededRange }): PassCoverage {
  return { clip: 'b', role: 'swapped', available: { start: 0, end: 100 }, missingHead: 0, missingTail: 0, missingHeadHandle: 0, missingTailHandle: 0, gaps: [], ...over };
}

const NEEDED: NeededRange = { lead: 'a', basis: 'shot-list', cut: { start: 10, end: 90 }, handles: { head: 8, tail: 8 }, from: 'shots.csv line 2' };

describe('the coverage drawing', () => {
  it('shows passes lead first, what each lacks as cut or handle frames, and a scale in frames and timecode', () => {
    const judged = brokenSplit();
    const second = judged.needed[1];
    if (second === undefined) throw new Error('the fixture has two ranges');
    const drawing = coverageDrawing(judged, second);
    expect(drawing).toMatchObject({ title: 'TWR_027_0020 · 27B take 3, circled', cut: { start: 164, end: 224 }, pull: { start: 152, end: 236 } });
    expect(drawing.bars.map(({ role }) => role)).toEqual(['lead', 'swapped', 'clean']);
    // The swapped pass has 205 frames and lies 6 earlier, so on the lead's count it ends before frame 211.
    expect(drawing.bars[1]).toMatchObject({
      available: { start: 6, end: 211 }, words: 'tail lacks 13 of the cut, 12 of the handle',
      missing: [{ part: 'cut', range: { start: 211, end: 224 } }, { part: 'handle', range: { start: 224, end: 236 } }],
    });
    // 24 labels a second at 23.976 (SMPTE ST 12-1): frame 72 of a clip from 14:22:33:04 is three seconds on.
    expect(drawing.ticks[0]).toEqual({ frame: 72, label: '72', timecode: '14:22:36:04' });
  });

  it('hatches nothing of a clean plate that serves whole, the camera being locked off, until it is found too short', () => {
    const judged = brokenSplit();
    const [, second] = judged.needed;
    if (second === undefined) throw new Error('the fixture has two ranges');
    expect(coverageDrawing(judged, second).bars[2]).toMatchObject({ words: '120 frames serve for all, the camera being locked off', missing: [] });
    const short = finding('clean-plate-short', 'stop', ['A_0003/A003C014_261125_R7QK.mov'], undefined, undefined, '', '', []);
    const found = { ...judged, findings: [short] };
    expect(coverageDrawing(found, second).bars[2]?.words).toBe('holds none of the cut');
    const moving = { ...judged, matched: { ...judged.matched, set: { ...judged.matched.set, method: { ...judged.matched.set.method, movingCamera: true } } } };
    expect(coverageDrawing(moving, second).bars[2]?.missing).toHaveLength(3);
  });

  it('keeps every tick inside the axis, at most nine of them, evenly spaced', () => {
    for (const judged of [brokenSplit(), clearSplit(), headReplacement()]) {
      for (const needed of judged.needed) {
        const { ticks, span } = coverageDrawing(judged, needed);
        expect(ticks.length).toBeGreaterThan(2);
        expect(ticks.length).toBeLessThanOrEqual(9);
        for (const { frame } of ticks) expect(frame >= span.start && frame <= span.end).toBe(true);
        const steps = new Set(ticks.slice(1).map(({ frame }, index) => frame - (ticks[index]?.frame ?? 0)));
        expect(steps.size).toBe(1);
      }
    }
  });

  it('shows a hole inside a pass where it is', () => {
    const judged = headReplacement();
    const [needed] = judged.needed;
    if (needed === undefined) throw new Error('the fixture has a range');
    expect(coverageDrawing(judged, needed).bars[1]).toMatchObject({ words: '4 frames missing inside', missing: [{ part: 'cut', range: { start: 89, end: 93 } }] });
  });

  it('draws exactly the frames that are asked for and not there', () => {
    const range = fc.tuple(fc.integer({ min: -50, max: 150 }), fc.integer({ min: 0, max: 120 })).map(([start, length]) => ({ start, end: start + length }));
    const handles = fc.record({ head: fc.nat({ max: 20 }), tail: fc.nat({ max: 20 }) });
    fc.assert(
      fc.property(range, range, handles, fc.nat({ max: 30 }), (cut, available, sides, hole) => {
        const gaps = [{ start: available.start + hole, end: Math.min(available.end, available.start + hole + 5) }].filter(({ start, end }) => start < end);
        const parts = missingParts(cover({ needed: { ...NEEDED, cut, handles: sides }, available, gaps }), { ...NEEDED, cut, handles: sides });
        const drawn = new Map(parts.flatMap(({ range: missing, part }) => Array.from({ length: missing.end - missing.start }, (_, index) => [missing.start + index, part] as const)));
        for (let frame = cut.start - sides.head; frame < cut.end + sides.tail; frame += 1) {
          const there = frame >= available.start && frame < available.end && !gaps.some(({ start, end }) => frame >= start && frame < end);
          const part = frame >= cut.start && frame < cut.end ? 'cut' : 'handle';
          expect(drawn.get(frame)).toBe(there ? undefined : part);
          drawn.delete(frame);
        }
        expect([...drawn.keys()]).toEqual([]);
      }),
    );
  });

  it('says what a pass lacks in words', () => {
    const pull = { start: 2, end: 98 };
    expect(coverWords(cover({ needed: NEEDED }), pull)).toBe('holds the range');
    expect(coverWords(cover({ needed: NEEDED, missingHead: 3, missingHeadHandle: 8 }), pull)).toBe('head lacks 3 of the cut, 8 of the handle');
    expect(coverWords(cover({ needed: NEEDED, missingTailHandle: 1 }), pull)).toBe('tail lacks 1 of the handle');
    expect(coverWords(cover({ needed: NEEDED, missingHead: 40, missingTail: 40 }), pull)).toBe('holds none of the cut');
    // A hole beyond the handles is none of this range's business.
    expect(coverWords(cover({ needed: NEEDED, gaps: [{ start: 97, end: 100 }] }), pull)).toBe('1 frame missing inside');
  });
});

describe('the ranges a sheet shows', () => {
  it('are those of the leads that count, and all when no lead does', () => {
    const judged = brokenSplit();
    const [first] = judged.needed;
    if (first === undefined) throw new Error('the fixture has ranges');
    const other: NeededRange = { ...first, lead: 'A_0003/A003C011_261125_R7QK.mov', shot: 'TWR_027_0030' };
    const shown = (countingLeads: readonly string[]) => shownNeeds({ ...judged, countingLeads, needed: [other, ...judged.needed] }).map(({ shot }) => shot);
    expect(shown(judged.countingLeads)).toEqual(['TWR_027_0010', 'TWR_027_0020']);
    expect(shown([])).toEqual(['TWR_027_0030', 'TWR_027_0010', 'TWR_027_0020']);
  });
});
