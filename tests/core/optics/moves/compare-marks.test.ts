import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { MarkComparison } from '../../../../src/core/optics/moves/compare-marks.ts';
import { compareMarks } from '../../../../src/core/optics/moves/compare-marks.ts';
import type { MovePoint } from '../../../../src/core/optics/moves/mark.ts';
import { faultyNumbers } from '../faulty-numbers.ts';
import { PLATE, ROOM } from '../optics-cameras.ts';

const SETTINGS = { plate: PLATE, planes: ROOM, focalLengthMm: 35 };
const A: MovePoint = { name: 'A', timeS: 0, x: 0, y: 0, z: 1.42, panDeg: 0, tiltDeg: 0, rollDeg: 0 };
const B: MovePoint = { name: 'B', timeS: 4, x: 0.3, y: 1.5, z: 1.42, panDeg: 20, tiltDeg: -2, rollDeg: 0 };
const C: MovePoint = { name: 'end of move', timeS: 7, x: 0.3, y: 2.5, z: 1.42, panDeg: 25, tiltDeg: -2, rollDeg: 0 };

function compare(first: readonly MovePoint[], second: readonly MovePoint[], settings = SETTINGS): MarkComparison {
  const comparison = compareMarks(first, second, settings);
  if (comparison.kind !== 'marks') throw new Error(JSON.stringify(comparison));
  return comparison;
}

describe('marks compared with marks', () => {
  it('of equal passes differ by nothing', () => {
    const { marks, legs, problems, refusals } = compare([A, B, C], [A, B, C]);
    expect(marks.map(({ name, lateS }) => [name, lateS])).toEqual([['A', 0], ['B', 0], ['end of move', 0]]);
    expect(marks.every(({ px }) => (px?.nearPx ?? 1) < 1e-9 && (px?.parallaxPx ?? 1) < 1e-9)).toBe(true);
    expect(legs.map(({ longerPercent }) => longerPercent)).toEqual([0, 0]);
    expect([problems, refusals]).toEqual([[], []]);
  });

  it('say position, turn, time and px of each mark, and which is the worst', () => {
    const { marks, worst } = compare([A, B], [{ ...A, z: 1.43 }, { ...B, timeS: 4.5, tiltDeg: -1.9 }]);
    // 10 mm of height: 5759.74 · 10 · (1/2000 − 1/6000) px.
    expect(marks[0]).toMatchObject({ name: 'A', stance: { aboveMm: expect.closeTo(10, 9) }, px: { nearPx: expect.closeTo(28.8, 1), parallaxPx: expect.closeTo(19.2, 1) } });
    expect(marks[1]).toMatchObject({ name: 'B', lateS: 0.5, stance: { tiltDeg: expect.closeTo(0.1, 9), sideMm: expect.closeTo(0, 9) }, px: { parallaxPx: expect.closeTo(0, 9) } });
    expect(worst).toBe('A');
  });

  it('give the place in the lead camera\'s own directions, whichever way it looks', () => {
    const right = { ...A, panDeg: 90 };
    // Panned to the right the camera looks along x, and y lies to its left.
    expect(compare([right], [{ ...right, x: 0.02, y: 0.01 }]).marks[0]?.stance).toMatchObject({ aheadMm: expect.closeTo(20, 9), sideMm: expect.closeTo(-10, 9) });
  });

  it('say how much slower each leg runs', () => {
    expect(compare([A, B, C], [A, { ...B, timeS: 5 }, { ...C, timeS: 8 }]).legs).toEqual([
      { from: 'A', to: 'B', firstS: 4, secondS: 5, longerPercent: 25 },
      { from: 'B', to: 'end of move', firstS: 3, secondS: 3, longerPercent: 0 },
    ]);
    expect(compare([A, { ...B, timeS: 5e-324 }], [A, B]).legs).toEqual([]);
  });

  it('name marks that one pass lacks, repeats, leaves without a time or reaches in another order', () => {
    const { name: _name, timeS: _time, ...place } = B;
    const { problems } = compare([A, B, C, { ...B, name: 'b ' }], [{ ...C, timeS: 1 }, { ...A, timeS: 2 }, { name: 'D', ...place }]);
    expect(problems).toEqual([
      { kind: 'missing', pass: 'first', mark: 'D' },
      { kind: 'missing', pass: 'second', mark: 'B' },
      { kind: 'repeated', pass: 'first', mark: 'b ' },
      { kind: 'backwards', pass: 'first', mark: 'b ' },
      { kind: 'without-time', pass: 'second', mark: 'D' },
      { kind: 'other-order', pass: 'second', mark: 'end of move' },
    ]);
    expect(compare([A, B], [B, A]).problems).toEqual([{ kind: 'backwards', pass: 'second', mark: 'A' }]);
  });

  it('say nothing of what is not on record for both', () => {
    const { z: _z, tiltDeg: _tilt, ...unmeasured } = A;
    const { marks } = compare([A], [{ ...unmeasured, x: 0.01 }]);
    expect(marks[0]).toMatchObject({ notCompared: ['z', 'tilt'], stance: { aboveMm: 0, tiltDeg: 0, sideMm: expect.closeTo(10, 9) } });
    const turns = { name: 'A', timeS: 0, panDeg: 0, tiltDeg: 0 };
    const onlyTurns = compare([turns], [{ ...turns, tiltDeg: 0.1 }]);
    expect(onlyTurns.marks[0]?.px).toEqual({ nearPx: expect.closeTo(10.4, 1), farPx: expect.closeTo(10.4, 1) });
    expect(onlyTurns.missing).toEqual(['camera position (x, y, z) at the marks']);
    const { focalLengthMm: _lens, ...blind } = SETTINGS;
    expect(compareMarks([A], [{ ...A, tiltDeg: 0.1 }], blind)).toMatchObject({ kind: 'marks', missing: ['focal length'] });
    expect(compareMarks([A], [B], SETTINGS)).toEqual({ kind: 'unknown', missing: ['marks of one name in both passes'] });
  });

  it('leave out impossible values by name and give no NaN, infinity or −0', () => {
    const { refusals, marks } = compare([A], [{ ...A, tiltDeg: 409.5, focalLengthMm: -35, timeS: Number.NaN }]);
    expect(refusals.map(({ what, found }) => [what, found])).toEqual([['time at mark A', 'NaN'], ['tilt at mark A', '409.5'], ['focal length at mark A', '-35']]);
    expect(marks[0]?.notCompared).toEqual(['tilt']);
    const wild = fc.option(fc.oneof(fc.double(), fc.double({ min: -10, max: 10, noNaN: true }), fc.constantFrom(0, -0, 409.5)), { nil: undefined });
    const point = fc
      .record({ name: fc.constantFrom('A', 'B', 'C'), timeS: wild, x: wild, y: wild, z: wild, panDeg: wild, tiltDeg: wild, rollDeg: wild, focalLengthMm: wild })
      .map(({ name, ...values }): MovePoint => ({ name, ...Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined)) }));
    fc.assert(
      fc.property(fc.array(point, { maxLength: 5 }), fc.array(point, { maxLength: 5 }), (a, b) => {
        expect(faultyNumbers(compareMarks(a, b, SETTINGS))).toEqual([]);
      }),
      { numRuns: 1000 },
    );
  });
});
