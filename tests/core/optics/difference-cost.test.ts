import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CameraState } from '../../../src/core/optics/camera-state.ts';
import type { DifferenceCost } from '../../../src/core/optics/difference-cost.ts';
import { differenceCost, reframed } from '../../../src/core/optics/difference-cost.ts';
import { clearBeyond } from '../../../src/core/optics/parallax.ts';
import type { Part } from '../../../src/core/optics/parts.ts';
import type { Planes } from '../../../src/core/optics/planes.ts';
import { planesOf } from '../../../src/core/optics/planes.ts';
import { faultyNumbers } from './faulty-numbers.ts';
import { LEAD, PLATE, ROOM } from './optics-cameras.ts';

function costOf(change: Partial<CameraState>, parts: readonly Part[], planes: Planes = ROOM, lead: CameraState = LEAD): DifferenceCost {
  const cost = differenceCost(lead, { ...lead, ...change }, PLATE, planes, parts);
  if (cost.kind !== 'cost') throw new Error(JSON.stringify(cost));
  return cost;
}

const parallaxPx = ({ parallax }: DifferenceCost): number => (parallax.kind === 'by-distance' ? Number.NaN : parallax.px);

describe('what a difference costs', () => {
  it('counts a 35.5 mm against a 35 mm as 29 px at the edge, all of which a warp undoes', () => {
    const cost = costOf({ focalLengthMm: 35.5 }, ['focalLength']);
    expect(cost.filmed.centrePx).toBe(0);
    expect(cost.filmed.edgePx).toBeCloseTo(29.257, 3);
    expect(cost.filmed.cornerPx).toBeCloseTo(33.076, 3);
    expect(cost.removablePx).toBeCloseTo(33.076, 3);
    expect(cost.keystonePx).toBeCloseTo(0, 9);
    expect(cost.parallax).toEqual({ kind: 'none', px: 0, missing: [] });
    expect(cost.needsSensor).toBe(false);
  });

  it('counts a camera that stood 2 cm higher as 38 px of parallax that nothing undoes', () => {
    const cost = costOf({ heightM: 1.44 }, ['height']);
    expect(parallaxPx(cost)).toBeCloseTo(38.398, 3);
    expect(cost.parallax.kind).toBe('exact');
    expect(cost.removablePx).toBeCloseTo(19.199, 3);
  });

  it('counts the same parallax when the operator re-framed by tilting, though far less of it lies in the middle', () => {
    const higher = { ...LEAD, heightM: 1.44 };
    const framed = reframed(LEAD, higher, 4);
    expect(framed.tiltDeg).toBeCloseTo(-0.28648, 4);
    const cost = costOf(framed, ['height', 'tilt']);
    expect(cost.filmed.centrePx).toBeCloseTo(28.8, 1);
    expect(parallaxPx(cost)).toBeCloseTo(38.4, 0);
    expect(Math.abs(parallaxPx(cost) - parallaxPx(costOf({ heightM: 1.44 }, ['height'])))).toBeLessThan(0.5);
  });

  it('matches the table of one small difference at a time (derived), in px at near and far plane', () => {
    expect(costOf({ panDeg: 0.05 }, ['pan']).filmed.worstPx).toBeCloseTo(5.67, 2);
    expect(costOf({ rollDeg: 0.05 }, ['roll']).filmed.worstPx).toBeCloseTo(2.02, 2);
    expect(costOf({ focalLengthMm: 35.05 }, ['focalLength']).filmed.worstPx).toBeCloseTo(3.31, 2);
    expect(parallaxPx(costOf({ sideM: 0.005 }, ['side']))).toBeCloseTo(9.6, 2);
    expect(costOf({ sideM: 0.005 }, ['side']).filmed.worstPx).toBeCloseTo(14.4, 2);
    expect(costOf({ forwardM: 0.01 }, ['forward']).filmed.worstPx).toBeCloseTo(11.63, 2);
    expect(parallaxPx(costOf({ forwardM: 0.01 }, ['forward']))).toBeCloseTo(7.77, 2);
  });

  it('needs a corner pin for what a tilt leaves after shift, scale and turn', () => {
    const cost = costOf({ tiltDeg: 1 }, ['tilt']);
    expect(parallaxPx(cost)).toBe(0);
    expect(cost.filmed.worstPx).toBeGreaterThan(100);
    expect(cost.keystonePx).toBeGreaterThan(1);
    expect(cost.keystonePx).toBeLessThan(20);
    expect(cost.needsSensor).toBe(true);
  });

  it('calls breathing an estimate', () => {
    const cost = costOf({ focalLengthMm: 50, focusM: 2 }, ['focus'], ROOM, { ...LEAD, focalLengthMm: 50, focusM: 3 });
    // Barrel distances: from the lens it is 2.949 m and 1.949 m.
    expect(cost.filmed.edgePx).toBeCloseTo(2048 * ((50 * (2949.1377 - 1948.6833)) / (2949.1377 * (1948.6833 - 50))), 2);
    expect(cost.assumptions.join()).toContain('estimate');
    expect(parallaxPx(cost)).toBe(0);
  });

  it('turns a tilted camera about its own axis and raises it along the plumb line', () => {
    const tilted = { ...LEAD, tiltDeg: -30 };
    // Looking 30° down, 20 mm up the plumb line are 17.32 mm across the view and 10 mm away from the subject.
    expect(costOf({ heightM: 1.44 }, ['height'], ROOM, tilted).filmed.centrePx).toBeCloseTo((5759.742869 * 17.3205) / 2010, 3);
    expect(costOf({ rollDeg: 0.05 }, ['roll'], ROOM, tilted).filmed.worstPx).toBeCloseTo(2.02, 2);
  });

  it('takes an unknown focal length for a roll or a zoom, whose px it does not change', () => {
    const { focalLengthMm: _unknown, ...blind } = LEAD;
    const cost = differenceCost(blind, { ...blind, rollDeg: 0.05 }, PLATE, ROOM, ['roll']);
    expect(cost).toMatchObject({ kind: 'cost', filmed: { worstPx: expect.closeTo(2.0205, 3) } });
  });
});

describe('what is not on record', () => {
  it('is asked for, never made up', () => {
    const { heightM: _height, ...unmeasured } = LEAD;
    expect(differenceCost(LEAD, unmeasured, PLATE, ROOM, ['height'])).toEqual({ kind: 'unknown', missing: ['camera height of the second pass'] });
    const { focalLengthMm: _focal, ...blind } = LEAD;
    expect(differenceCost(blind, blind, PLATE, ROOM, ['tilt', 'height'])).toEqual({ kind: 'unknown', missing: ['focal length of the first pass'] });
  });

  it('gives the bound it can give without the background: everything behind taken at infinity', () => {
    const cost = costOf({ heightM: 1.44 }, ['height'], { nearM: 2, assumptions: [] });
    expect(cost.parallax).toEqual({ kind: 'at-most', px: expect.closeTo(57.597, 3), missing: ['background distance'] });
    expect(parallaxPx(cost)).toBeGreaterThan(parallaxPx(costOf({ heightM: 1.44 }, ['height'])));
  });

  it('says from what distance on it does not matter without the subject', () => {
    const { parallax } = costOf({ heightM: 1.44 }, ['height'], { farM: 6, assumptions: [] });
    expect(parallax).toEqual({ kind: 'by-distance', pxMetres: expect.closeTo(115.195, 3), missing: ['subject distance'] });
    expect(parallax.kind === 'by-distance' ? clearBeyond(parallax.pxMetres, 2) : 0).toBeCloseTo(57.6, 1);
  });

  it('takes the subject to stand where the lens is focused, and says so', () => {
    const planes = planesOf({ focusM: 2.4, backgroundM: 6 });
    expect(planes).toMatchObject({ nearM: 2.4, farM: 6 });
    expect(costOf({ heightM: 1.44 }, ['height'], planes).assumptions.join()).toContain('2.4 m');
    expect(planesOf({ focusM: Number.POSITIVE_INFINITY })).toEqual({ assumptions: [] });
    expect(planesOf({ subjectM: 7, backgroundM: 3 })).toMatchObject({ nearM: 3, farM: 7 });
  });

  it('takes a camera for level when its tilt is not noted, and says so', () => {
    const { tiltDeg: _tilt, ...unmeasured } = LEAD;
    expect(costOf({ heightM: 1.44 }, ['height'], ROOM, unmeasured).assumptions.join()).toContain('level');
  });
});

describe('values no camera can have', () => {
  it.each<[string, Partial<CameraState>, string]>([
    ['a negative focal length', { focalLengthMm: -35 }, 'focal length'],
    ['focus inside the lens', { focusM: 0.1 }, 'focus distance'],
    ['T0', { iris: { number: 0, kind: 'T' } }, 'stop'],
    ['a tilt sensor out of range', { tiltDeg: 409.5 }, 'tilt'],
    ['no number at all', { heightM: Number.NaN }, 'camera height'],
    ['a shutter wider than the circle', { shutterDeg: 400 }, 'shutter'],
    ['an endless height', { heightM: Number.POSITIVE_INFINITY }, 'camera height'],
  ])('%s is refused by name', (_name, change, what) => {
    const cost = differenceCost(LEAD, { ...LEAD, ...change }, PLATE, ROOM, ['height']);
    expect(cost).toMatchObject({ kind: 'refused', refusals: [{ what }] });
  });

  it('a plane the second camera has passed is refused', () => {
    expect(differenceCost(LEAD, { ...LEAD, forwardM: 3 }, PLATE, ROOM, ['forward'])).toMatchObject({ kind: 'refused', refusals: [{ what: 'distance' }] });
  });

  it('nothing is ever NaN, infinite or −0, whatever goes in', () => {
    const wild = fc.oneof(fc.double(), fc.constantFrom(0, -0, 1, 35, 409.5, -1e308, 1e308, 5e-324, Number.NaN, Number.POSITIVE_INFINITY));
    const state = fc.record({ focalLengthMm: wild, focusM: wild, heightM: wild, sideM: wild, forwardM: wild, panDeg: wild, tiltDeg: wild, rollDeg: wild });
    const sane = fc.record({
      focalLengthMm: fc.double({ min: 4, max: 600, noNaN: true }), focusM: fc.double({ min: 3, max: 1e6, noNaN: true }), heightM: fc.double({ min: -100, max: 100, noNaN: true }),
      sideM: fc.double({ min: -100, max: 100, noNaN: true }), forwardM: fc.double({ min: -100, max: 100, noNaN: true }),
      panDeg: fc.double({ min: -720, max: 720, noNaN: true }), tiltDeg: fc.double({ min: -360, max: 360, noNaN: true }), rollDeg: fc.double({ min: -360, max: 360, noNaN: true }),
    });
    const parts = fc.subarray<Part>(['focalLength', 'focus', 'height', 'side', 'forward', 'pan', 'tilt', 'roll'], { minLength: 1 });
    const planes = fc.record({ nearM: fc.oneof(wild, fc.double({ min: 0.1, max: 10, noNaN: true })), farM: fc.oneof(wild, fc.double({ min: 10, max: 1e5, noNaN: true })), assumptions: fc.constant([]) });
    fc.assert(
      fc.property(fc.oneof(state, sane), fc.oneof(state, sane), planes, parts, (first, second, distances, chosen) => {
        expect(faultyNumbers(differenceCost(first, second, PLATE, distances, chosen))).toEqual([]);
      }),
      { numRuns: 3000 },
    );
  });
});
