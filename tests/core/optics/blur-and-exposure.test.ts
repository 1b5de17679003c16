import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { blurCost } from '../../../src/core/optics/blur-cost.ts';
import { blurDisc, blurDiscOnTape, depthOfField, depthOfFieldOnBarrel, hyperfocal, hyperfocalOnBarrel } from '../../../src/core/optics/depth-of-field.ts';
import { exposureDifference, stopsOfDensity } from '../../../src/core/optics/exposure.ts';
import { exposureBalance } from '../../../src/core/optics/exposure-balance.ts';
import { barrelFromLens, subjectFromLens } from '../../../src/core/optics/image-scale.ts';
import { ImpossibleValueError } from '../../../src/core/optics/impossible.ts';
import { faultyNumbers } from './faulty-numbers.ts';
import { LEAD, PLATE, ROOM } from './optics-cameras.ts';

const lens = fc.record({
  focalLengthMm: fc.double({ min: 10, max: 300, noNaN: true }),
  stop: fc.double({ min: 1, max: 22, noNaN: true }),
});

describe('depth of field', () => {
  it('has a blur disc of just the circle of confusion at both limits, whatever the lens', () => {
    fc.assert(
      fc.property(lens, fc.double({ min: 0.005, max: 0.05, noNaN: true }), fc.double({ min: 1500, max: 20_000, noNaN: true }), (setting, circleMm, focusMm) => {
        const { nearMm, farMm } = depthOfField(setting, circleMm, focusMm);
        fc.pre(nearMm > 1.01 * setting.focalLengthMm);
        expect(blurDisc(setting, focusMm, nearMm) / circleMm).toBeCloseTo(1, 6);
        if (farMm !== 'infinity') expect(blurDisc(setting, focusMm, farMm) / circleMm).toBeCloseTo(1, 6);
      }),
    );
  });

  it('reaches infinity from the hyperfocal distance on, and not before', () => {
    fc.assert(
      fc.property(lens, (setting) => {
        const hyper = hyperfocal(setting, 0.025);
        expect(depthOfField(setting, 0.025, hyper * 1.0001).farMm).toBe('infinity');
        expect(depthOfField(setting, 0.025, hyper * 0.999).farMm).not.toBe('infinity');
      }),
    );
  });

  it('reads the same on the barrel, a picture distance farther from the sensor', () => {
    const setting = { focalLengthMm: 50, stop: 4 };
    const onBarrel = depthOfFieldOnBarrel(setting, 0.025, 3000);
    const fromLens = depthOfField(setting, 0.025, subjectFromLens(50, 3000));
    expect(onBarrel.nearMm - fromLens.nearMm).toBeCloseTo(50.86233, 4);
    expect(depthOfFieldOnBarrel(setting, 0.025, Number.POSITIVE_INFINITY).farMm).toBe('infinity');
    expect(hyperfocalOnBarrel(setting, 0.025)).toBeCloseTo(hyperfocal(setting, 0.025) + 50, 0);
    expect(blurDiscOnTape(setting, 3000, onBarrel.nearMm)).toBeCloseTo(0.025, 9);
  });

  it('goes from barrel to lens and back', () => {
    fc.assert(
      fc.property(fc.double({ min: 10, max: 300, noNaN: true }), fc.double({ min: 1300, max: 1e6, noNaN: true }), (focalLengthMm, barrelMm) => {
        expect(barrelFromLens(focalLengthMm, subjectFromLens(focalLengthMm, barrelMm)) / barrelMm).toBeCloseTo(1, 9);
      }),
    );
  });

  it('refuses focus inside the lens', () => {
    expect(() => depthOfField({ focalLengthMm: 50, stop: 4 }, 0.025, 40)).toThrow(ImpossibleValueError);
    expect(() => hyperfocal({ focalLengthMm: 50, stop: 0 }, 0.025)).toThrow('stop must be');
  });
});

describe('what other focus or iris costs in sharpness', () => {
  it('counts the blur discs of both passes on both planes', () => {
    const cost = blurCost(LEAD, { ...LEAD, focusM: 2.5 }, PLATE, ROOM);
    expect(cost).toMatchObject({ kind: 'blur', missing: [], assumptions: [] });
    if (cost.kind !== 'blur') return;
    const [near, far] = cost.planes;
    expect(near?.firstPx).toBeCloseTo(0, 9);
    // By hand: u = 2464.495, v = 35.504; 35²/2.8284 · (1/1964.496 − 1/2464.495) · 2464.495/2429.495 = 0.045371 mm, over 0.0060767 mm.
    expect(near?.secondPx).toBeCloseTo(7.4667, 3);
    expect(far?.differencePx).toBeLessThan(0);
    expect(cost.worstPx).toBe(Math.max(Math.abs(near?.differencePx ?? 0), Math.abs(far?.differencePx ?? 0)));
  });

  it('flips its sign when the passes are swapped', () => {
    const [there, back] = [blurCost(LEAD, { ...LEAD, focusM: 3 }, PLATE, ROOM), blurCost({ ...LEAD, focusM: 3 }, LEAD, PLATE, ROOM)];
    if (there.kind !== 'blur' || back.kind !== 'blur') throw new Error('both are on record');
    expect(there.planes.map(({ differencePx }) => differencePx)).toEqual(back.planes.map(({ differencePx }) => -differencePx));
  });

  it('says that a T-number stands in for the f-number, and which distances are missing', () => {
    const taken = { ...LEAD, iris: { number: 2.8, kind: 'T' } as const };
    const cost = blurCost(taken, { ...taken, focusM: 3 }, PLATE, { nearM: 2, assumptions: [] });
    expect(cost).toMatchObject({ kind: 'blur', missing: ['background distance'], assumptions: [expect.stringContaining('understated')] });
    expect(blurCost(LEAD, LEAD, PLATE, { assumptions: [] })).toEqual({ kind: 'unknown', missing: ['subject distance', 'background distance'] });
    const { iris: _iris, ...unset } = LEAD;
    expect(blurCost(LEAD, unset, PLATE, ROOM)).toEqual({ kind: 'unknown', missing: ['stop of the second pass'] });
  });

  it('never gives NaN, infinity or −0', () => {
    const wild = fc.oneof(fc.double(), fc.double({ min: 0.1, max: 100, noNaN: true }), fc.constantFrom(0, -0, Number.NaN, Number.POSITIVE_INFINITY));
    const state = fc.record({ focalLengthMm: wild, focusM: wild, iris: fc.record({ number: wild, kind: fc.constant('f' as const) }) });
    fc.assert(
      fc.property(state, state, wild, wild, (a, b, nearM, farM) => {
        expect(faultyNumbers(blurCost(a, b, PLATE, { nearM, farM, assumptions: [] }))).toEqual([]);
      }),
    );
  });
});

describe('exposure balance', () => {
  it('takes a difference of densities either way, but no filter below 0', () => {
    expect(stopsOfDensity(-0.3)).toBe(-stopsOfDensity(0.3));
    expect(() => exposureDifference({ stop: 2.8, exposureS: 0.02, density: -0.3 }, { stop: 2.8, exposureS: 0.02, density: 0 })).toThrow(ImpossibleValueError);
  });

  it('sums iris, time and density and keeps the EI apart', () => {
    const second = { ...LEAD, iris: { number: 4, kind: 'f' } as const, shutterDeg: 172.8, ndDensity: 0.3, ei: 400 };
    const balance = exposureBalance(LEAD, second);
    expect(balance).toMatchObject({ kind: 'balance', missing: [], assumptions: [] });
    if (balance.kind !== 'balance') return;
    expect(balance.irisStops).toBeCloseTo(-1, 9);
    expect(balance.timeStops).toBeCloseTo(-0.0589, 4);
    expect(balance.ndStops).toBeCloseTo(0.9966, 4);
    expect(balance.sensorStops).toBeCloseTo(-0.0623, 4);
    expect(balance.indexStops).toBe(-1);
  });

  it('flips its sign when the passes are swapped', () => {
    const setting = fc.record({
      iris: fc.record({ number: fc.double({ min: 1, max: 22, noNaN: true }), kind: fc.constant('T' as const) }),
      shutterDeg: fc.double({ min: 1, max: 360, noNaN: true }), sensorFps: fc.double({ min: 1, max: 240, noNaN: true }),
      ndDensity: fc.double({ min: 0, max: 3, noNaN: true }), ei: fc.integer({ min: 25, max: 12_800 }),
    });
    fc.assert(
      fc.property(setting, setting, (a, b) => {
        const [there, back] = [exposureBalance(a, b), exposureBalance(b, a)];
        if (there.kind !== 'balance' || back.kind !== 'balance') throw new Error('all is on record');
        expect(there.sensorStops + back.sensorStops).toBeCloseTo(0, 9);
        expect((there.indexStops ?? Number.NaN) + (back.indexStops ?? Number.NaN)).toBeCloseTo(0, 9);
        expect(faultyNumbers(there)).toEqual([]);
      }),
    );
  });

  it('holds no T against an f, and no angle against another rate it does not know', () => {
    expect(exposureBalance({ iris: { number: 2.8, kind: 'T' } }, { iris: { number: 2.8, kind: 'f' } })).toMatchObject({ sensorStops: 0, missing: [expect.stringContaining('one scale'), 'shutter', 'neutral density', 'EI'] });
    expect(exposureBalance({ shutterDeg: 180, sensorFps: 24 }, { shutterDeg: 180 })).toMatchObject({ missing: expect.arrayContaining(['sensor rate']) });
    expect(exposureBalance({ shutterDeg: 180 }, { shutterDeg: 90 })).toMatchObject({ timeStops: -1, assumptions: [expect.stringContaining('same for both')] });
  });

  it('refuses T0 and negative densities by name', () => {
    expect(exposureBalance({ iris: { number: 0, kind: 'T' } }, { ndDensity: -0.3 })).toEqual({
      kind: 'refused',
      refusals: [{ what: 'stop', found: '0', expected: expect.any(String) }, { what: 'density', found: '-0.3', expected: expect.any(String) }],
    });
  });
});
