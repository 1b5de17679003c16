import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { blurCost } from '../../../src/core/optics/blur-cost.ts';
import type { CameraState } from '../../../src/core/optics/camera-state.ts';
import { differenceCost } from '../../../src/core/optics/difference-cost.ts';
import { exposureBalance } from '../../../src/core/optics/exposure-balance.ts';
import type { Limits } from '../../../src/core/optics/limits.ts';
import type { Part } from '../../../src/core/optics/parts.ts';
import { valueOf, withValue } from '../../../src/core/optics/parts.ts';
import { toleranceBox, toleranceFor } from '../../../src/core/optics/tolerance-for.ts';
import { faultyNumbers } from './faulty-numbers.ts';
import { LEAD, PLATE, ROOM } from './optics-cameras.ts';

const LIMITS: Limits = { shiftPx: 0.5, parallaxPx: 0.5, blurPx: 1, stops: 0.1 };
const amountOf = (of: Part, planes = ROOM): number => {
  const tolerance = toleranceFor(of, LIMITS, LEAD, PLATE, planes);
  return tolerance.kind === 'plus-minus' ? tolerance.amount : Number.NaN;
};

describe('the optics solved backwards', () => {
  it('matches the table of what half a px is at 4096 (derived)', () => {
    // At the edge a pan of 0.00497° makes more than half a px, hence a little less than in the middle.
    expect(amountOf('pan')).toBeCloseTo(0.00497 / 1.1264, 4);
    expect(amountOf('roll')).toBeCloseTo(0.0124, 4);
    expect(amountOf('side')).toBeCloseTo(0.26, 2);
    expect(amountOf('side', { nearM: 2, assumptions: [] })).toBeCloseTo(0.174, 3);
    // The corner of a 4096 × 2160 picture lies 2315 px from the middle: 35 mm · 0.5 / 2315.
    expect(amountOf('focalLength')).toBeCloseTo(0.00756, 5);
  });

  it('gives every part a tolerance that makes the limit again within 1 %, whichever way it is out', () => {
    const camera = fc.record({
      focalLengthMm: fc.double({ min: 14, max: 150, noNaN: true }), tiltDeg: fc.double({ min: -40, max: 40, noNaN: true }), rollDeg: fc.double({ min: -5, max: 5, noNaN: true }),
      heightM: fc.double({ min: 0, max: 4, noNaN: true }),
    });
    const part = fc.constantFrom<Exclude<Part, 'focus'>>('focalLength', 'height', 'side', 'forward', 'pan', 'tilt', 'roll');
    fc.assert(
      fc.property(camera, part, fc.double({ min: 0.1, max: 20, noNaN: true }), fc.double({ min: 1, max: 5, noNaN: true }), fc.double({ min: 5.5, max: 50, noNaN: true }), (first, of, limit, nearM, farM) => {
        const planes = { nearM, farM, assumptions: [] };
        const tolerance = toleranceFor(of, { shiftPx: limit, parallaxPx: limit, blurPx: 1, stops: 0.1 }, first, PLATE, planes);
        if (tolerance.kind !== 'plus-minus') throw new Error(JSON.stringify(tolerance));
        const base = valueOf(of, first) ?? 0;
        const scale = tolerance.unit === 'mm' && of !== 'focalLength' ? 0.001 : 1;
        const pixels = [1, -1].map((sign) => {
          const cost = differenceCost(withValue(of, first, base), withValue(of, first, base + sign * tolerance.amount * scale), PLATE, planes, [of]);
          if (cost.kind !== 'cost' || cost.parallax.kind === 'by-distance') throw new Error(JSON.stringify(cost));
          return tolerance.limitedBy === 'shift' ? cost.filmed.worstPx : cost.parallax.px;
        });
        expect(Math.max(...pixels) / limit).toBeGreaterThan(0.99);
        expect(Math.max(...pixels) / limit).toBeLessThan(1.01);
      }),
      { numRuns: 300 },
    );
  });

  it('gives focus a range whose ends blur by the limit, and nothing in it by more', () => {
    const lens = fc.record({
      focalLengthMm: fc.double({ min: 18, max: 135, noNaN: true }), focusM: fc.double({ min: 1.5, max: 8, noNaN: true }),
      iris: fc.record({ number: fc.double({ min: 1.4, max: 11, noNaN: true }), kind: fc.constant('f' as const) }),
    });
    fc.assert(
      fc.property(lens, fc.double({ min: 0.5, max: 5, noNaN: true }), fc.double({ min: 0, max: 0.999, noNaN: true }), (camera, limit, share) => {
        const planes = { nearM: camera.focusM, farM: camera.focusM * 3, assumptions: [] };
        const range = toleranceFor('focus', { ...LIMITS, blurPx: limit }, camera, PLATE, planes);
        if (range.kind !== 'range') throw new Error(JSON.stringify(range));
        const blurAt = (focusM: number): number => {
          const cost = blurCost(camera, { ...camera, focusM }, PLATE, planes);
          return cost.kind === 'blur' ? cost.worstPx : Number.NaN;
        };
        const farthest = range.farthestM === 'infinity' ? Number.POSITIVE_INFINITY : range.farthestM;
        if (range.nearestM > 0.1401 * camera.focalLengthMm / 35) expect(blurAt(range.nearestM) / limit).toBeCloseTo(1, 2);
        if (Number.isFinite(farthest)) expect(blurAt(farthest) / limit).toBeCloseTo(1, 2);
        const within = 1 / (1 / range.nearestM + share * ((Number.isFinite(farthest) ? 1 / farthest : 0) - 1 / range.nearestM));
        expect(blurAt(within)).toBeLessThan(limit * 1.01);
      }),
      { numRuns: 300 },
    );
  });

  it('gives the exposure a tolerance that makes the limit again', () => {
    for (const [of, change] of [
      ['shutter', (amount: number): CameraState => ({ ...LEAD, shutterDeg: 180 - amount })],
      ['nd', (amount: number): CameraState => ({ ...LEAD, ndDensity: 0.6 + amount })],
      ['ei', (amount: number): CameraState => ({ ...LEAD, ei: 800 - amount })],
    ] as const) {
      const tolerance = toleranceFor(of, LIMITS, LEAD, PLATE, ROOM);
      if (tolerance.kind !== 'plus-minus') throw new Error(of);
      const balance = exposureBalance(LEAD, change(tolerance.amount));
      expect(balance.kind === 'balance' ? balance.sensorStops + (balance.indexStops ?? 0) : Number.NaN).toBeCloseTo(-0.1, 9);
    }
    expect(toleranceFor('iris', LIMITS, LEAD, PLATE, ROOM)).toMatchObject({ amount: 0.1, unit: 'stops', limitedBy: 'exposure' });
  });

  it('takes a background nobody measured at infinity and says so, but makes no subject up', () => {
    const tolerance = toleranceFor('height', LIMITS, LEAD, PLATE, { nearM: 2, assumptions: ['taped on the day'] });
    expect(tolerance).toMatchObject({ kind: 'plus-minus', unit: 'mm', assumptions: ['taped on the day', expect.stringContaining('tightest')] });
    expect(toleranceFor('height', LIMITS, LEAD, PLATE, { farM: 6, assumptions: [] })).toEqual({ kind: 'unknown', missing: ['subject distance'] });
    expect(toleranceFor('focus', LIMITS, { focalLengthMm: 35 }, PLATE, ROOM)).toEqual({ kind: 'unknown', missing: ['focus distance', 'stop'] });
    expect(toleranceFor('height', LIMITS, LEAD, PLATE, { nearM: 2, farM: 2, assumptions: [] })).toMatchObject({ kind: 'free' });
  });

  it('refuses what cannot be, and gives no NaN, infinity or −0', () => {
    expect(toleranceFor('tilt', LIMITS, { ...LEAD, focalLengthMm: -35 }, PLATE, ROOM)).toMatchObject({ kind: 'refused', refusals: [{ what: 'focal length' }] });
    expect(toleranceFor('tilt', { ...LIMITS, shiftPx: Number.NaN }, LEAD, PLATE, ROOM)).toMatchObject({ kind: 'refused', refusals: [{ what: 'limit' }] });
    const wild = fc.oneof(fc.double(), fc.double({ min: 0.5, max: 100, noNaN: true }), fc.constantFrom(0, -0, Number.NaN, Number.POSITIVE_INFINITY));
    fc.assert(
      fc.property(wild, wild, wild, wild, (focalLengthMm, focusM, nearM, limit) => {
        const camera = { ...LEAD, focalLengthMm, focusM };
        const limits = { shiftPx: limit, parallaxPx: limit, blurPx: limit, stops: limit };
        expect(faultyNumbers(toleranceBox(limits, camera, PLATE, { nearM, assumptions: [] }))).toEqual([]);
      }),
      { numRuns: 200 },
    );
  });

  it('covers everything a crew sets, in the order it is set', () => {
    expect(toleranceBox(LIMITS, LEAD, PLATE, ROOM).map(({ of, tolerance }) => [of, tolerance.kind])).toEqual([
      ['focalLength', 'plus-minus'], ['focus', 'range'], ['iris', 'plus-minus'], ['nd', 'plus-minus'], ['shutter', 'plus-minus'], ['ei', 'plus-minus'],
      ['height', 'plus-minus'], ['side', 'plus-minus'], ['forward', 'plus-minus'], ['pan', 'plus-minus'], ['tilt', 'plus-minus'], ['roll', 'plus-minus'],
    ]);
  });
});
