import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { MoveComparison, MoveSettings } from '../../../../src/core/optics/moves/compare-moves.ts';
import { compareMoves } from '../../../../src/core/optics/moves/compare-moves.ts';
import type { Move } from '../../../../src/core/optics/moves/move.ts';
import { faultyNumbers } from '../faulty-numbers.ts';
import { PLATE, ROOM } from '../optics-cameras.ts';
import type { Moment } from './made-moves.ts';
import { dollyAndPan, moveFrom, noiseFrom, sampleOf } from './made-moves.ts';

const SETTINGS: MoveSettings = { plate: PLATE, planes: ROOM, offset: 0 };
const LEVEL: Moment = { xMm: 0, yMm: 0, zMm: 0, panDeg: 0, tiltDeg: 0, rollDeg: 0, focalLengthMm: 35 };

function compare(first: Move, second: Move, settings: Partial<MoveSettings> = {}): MoveComparison {
  const comparison = compareMoves(first, second, { ...SETTINGS, ...settings });
  if (comparison.kind !== 'moves') throw new Error(JSON.stringify(comparison));
  return comparison;
}

describe('two recorded moves', () => {
  const lead = moveFrom(240, dollyAndPan);

  it('that are one show no difference at all', () => {
    const { synced, timing } = compare(lead, lead);
    expect(synced.near.worstPx).toBeLessThan(1e-6);
    expect(synced.parallax.worstPx).toBeLessThan(1e-6);
    expect(timing).toMatchObject({ kind: 'found', lateFrames: expect.closeTo(0, 4), speed: 1 });
  });

  it.each<[string, Partial<Moment>, near: number, far: number, parallax: number, channel: string]>([
    ['pan of 0.05°', { panDeg: 0.05 }, 5.67, 5.67, 0, 'pan'],
    ['roll of 0.05°', { rollDeg: 0.05 }, 2.02, 2.02, 0, 'roll'],
    ['zoom of 0.05 mm', { focalLengthMm: 35.05 }, 3.31, 3.31, 0, 'zoom'],
    ['5 mm to the side', { xMm: 5 }, 14.4, 4.8, 9.6, 'side'],
    ['10 mm ahead', { zMm: 10 }, 11.63, 3.87, 7.77, 'depth'],
  ])('differ by a %s as derived by hand, and say which channel it was', (_name, change, near, far, parallax, channel) => {
    const { synced, channels } = compare(moveFrom(48, () => LEVEL), moveFrom(48, () => ({ ...LEVEL, ...change })));
    expect(synced.near.worstPx).toBeCloseTo(near, 2);
    expect(synced.far.worstPx).toBeCloseTo(far, 2);
    expect(synced.parallax.worstPx).toBeCloseTo(parallax, 2);
    expect(channels[0]?.channel).toBe(channel);
    expect(channels[0]?.dropPx).toBeCloseTo(synced.near.rmsPx, 6);
  });

  it('differ by opposite signs before and behind the plane they were re-framed on', () => {
    const lower = { ...LEVEL, yMm: 5, tiltDeg: (Math.atan2(5, 4000) * 180) / Math.PI };
    const { synced } = compare(moveFrom(48, () => LEVEL), moveFrom(48, () => lower));
    expect(synced.near.worstPx).toBeCloseTo(7.2, 1);
    expect(synced.far.worstPx).toBeGreaterThan(2.3);
    expect(synced.far.worstPx).toBeLessThan(2.8);
    expect(synced.parallax.worstPx).toBeCloseTo(9.6, 1);
  });

  it('say how the second camera stood at the worst frame, in the lead camera\'s own directions', () => {
    const turned = { ...LEVEL, panDeg: 90 };
    const { worst } = compare(moveFrom(48, () => turned), moveFrom(48, (frame) => (frame === 30 ? { ...turned, xMm: 20, yMm: -10, zMm: 5, tiltDeg: 0.1 } : turned)));
    // Looking along x: x is ahead, z is to the left.
    expect(worst).toMatchObject({ frame: 30, aheadMm: expect.closeTo(20, 9), aboveMm: expect.closeTo(10, 9), sideMm: expect.closeTo(-5, 9), tiltDeg: expect.closeTo(0.1, 9), panDeg: expect.closeTo(0, 9) });
  });

  it('find a delay to a thousandth of a frame in exact data, and nothing is left once it is taken out', () => {
    for (const late of [3.25, -7.6, 20]) {
      const { timing, synced, aligned } = compare(lead, moveFrom(280, (frame) => dollyAndPan(frame - late)));
      expect(timing).toMatchObject({ kind: 'found', lateFrames: expect.closeTo(late, 2), speed: 1 });
      expect(synced.near.worstPx).toBeGreaterThan(50);
      expect(aligned?.near.rmsPx).toBeLessThan(1);
    }
  });

  it('find a delay in spite of a constant framing error', () => {
    const second = moveFrom(260, (frame) => {
      const moment = dollyAndPan(frame - 2.5);
      return { ...moment, xMm: moment.xMm + 3, panDeg: moment.panDeg + 0.02 };
    });
    expect(compare(lead, second).timing).toMatchObject({ kind: 'found', lateFrames: expect.closeTo(2.5, 1), speed: 1 });
  });

  it('find a move that runs 3 % slow', () => {
    const second = moveFrom(260, (frame) => dollyAndPan(120 + (frame - 120) * 0.97));
    const { timing, aligned } = compare(lead, second);
    expect(timing).toMatchObject({ kind: 'found', speed: expect.closeTo(0.97, 3), lateFrames: expect.closeTo(0.5 * 0.03, 1) });
    expect(aligned?.near.rmsPx).toBeLessThan(1);
  });

  it('find a delay through the noise of a tracker, within its own estimate', () => {
    const noise = noiseFrom(7);
    const shaken = (at: (frame: number) => Moment) => (frame: number): Moment => {
      const moment = at(frame);
      return { ...moment, xMm: moment.xMm + noise(), zMm: moment.zMm + noise(), panDeg: moment.panDeg + 0.01 * noise(), tiltDeg: moment.tiltDeg + 0.01 * noise() };
    };
    const { timing } = compare(moveFrom(240, shaken(dollyAndPan)), moveFrom(260, shaken((frame) => dollyAndPan(frame - 4))));
    expect(timing).toMatchObject({ kind: 'found', lateFrames: expect.closeTo(4, 0), speed: 1 });
    expect(timing.kind === 'found' ? Math.abs(timing.lateFrames - 4) : Number.NaN).toBeLessThan(0.1);
    expect(timing.kind === 'found' ? timing.sdFrames : Number.NaN).toBeLessThan(0.1);
  });

  it('say that a delay cannot be told from a framing error when the camera stands still or runs evenly', () => {
    const still = compare(moveFrom(96, () => LEVEL), moveFrom(96, () => ({ ...LEVEL, panDeg: 0.2 })));
    expect(still.timing).toMatchObject({ kind: 'not-determinable' });
    expect(still.aligned).toBeUndefined();
    // Drifting at one speed to the side, a plane shifts evenly.
    const even = compare(moveFrom(96, (frame) => ({ ...LEVEL, xMm: 5 * frame })), moveFrom(96, (frame) => ({ ...LEVEL, xMm: 5 * (frame - 3) })));
    expect(even.timing).toMatchObject({ kind: 'not-determinable' });
  });

  it('are compared where both are on record: not outside, not in a hole, but over a dropped frame', () => {
    const second = { ...lead, samples: lead.samples.filter(({ frame }) => frame !== 20 && (frame < 50 || frame > 59) && frame < 200) };
    const { synced, framesWithoutPartner } = compare(lead, second);
    // Ten frames in the hole, forty past the end.
    expect(framesWithoutPartner).toBe(50);
    expect(synced.frames).toBe(190);
    expect(synced.near.worstPx).toBeLessThan(0.01);
  });

  it('lie over each other by the sync that is given', () => {
    const second = { ...lead, samples: lead.samples.map((sample) => ({ ...sample, frame: sample.frame + 86_400 })) };
    expect(compare(lead, second, { offset: 86_400 }).synced.near.worstPx).toBeLessThan(1e-6);
    expect(compareMoves(lead, second, SETTINGS)).toEqual({ kind: 'unknown', missing: ['frames that both moves share'] });
  });

  it('are seen from the entrance pupil when it is on record for both', () => {
    const withPupil = (move: Move, mm: number): Move => ({ ...move, samples: move.samples.map((sample) => ({ ...sample, entrancePupilMm: mm })) });
    // A head that pans 1° about the sensor swings a pupil 100 mm before it by 1.745 mm to the side.
    const [level, panned] = [moveFrom(24, () => LEVEL), moveFrom(24, () => ({ ...LEVEL, panDeg: 1 }))];
    expect(compare(level, panned).synced.parallax.worstPx).toBeLessThan(1e-6);
    expect(compare(level, panned).assumptions.join()).toContain('entrance pupil');
    const swung = compare(withPupil(level, 100), withPupil(panned, 100));
    expect(swung.synced.parallax.worstPx).toBeCloseTo(3.8, 0);
    expect(swung.assumptions).toEqual([]);
  });

  it('need planes, a lens and one rate, and say what is missing', () => {
    expect(compare(lead, lead, { planes: { assumptions: [] } })).toMatchObject({ missing: ['subject distance', 'background distance'] });
    expect(compare(lead, lead, { planes: { nearM: 2, assumptions: [] } }).assumptions.join()).toContain('upper bound');
    const { focalLengthMm: _lens, ...blind } = sampleOf(0, LEVEL);
    const without: Move = { rate: lead.rate, samples: [blind] };
    expect(compareMoves(without, without, SETTINGS)).toEqual({ kind: 'unknown', missing: ['a move of both passes with position, turn and focal length'] });
    expect(compareMoves(without, without, { ...SETTINGS, focalLengthMm: 35 })).toMatchObject({ kind: 'moves' });
    expect(compareMoves(lead, { ...lead, rate: { num: 25, den: 1 } }, SETTINGS)).toMatchObject({ kind: 'refused', refusals: [{ found: '25 fps' }] });
    expect(compareMoves(lead, lead, { ...SETTINGS, focalLengthMm: Number.NaN })).toMatchObject({ kind: 'refused', refusals: [{ what: 'focal length' }] });
  });

  it('give no NaN, infinity or −0 whatever the samples hold', () => {
    const wild = fc.oneof(fc.double(), fc.double({ min: -100, max: 100, noNaN: true }), fc.constantFrom(0, -0, Number.NaN, Number.POSITIVE_INFINITY));
    const sample = fc.record({ xMm: wild, yMm: wild, zMm: wild, panDeg: fc.double({ min: -90, max: 90, noNaN: true }), tiltDeg: wild, focalLengthMm: wild, entrancePupilMm: wild });
    fc.assert(
      fc.property(fc.array(sample, { minLength: 1, maxLength: 20 }), fc.array(sample, { minLength: 1, maxLength: 20 }), (a, b) => {
        const made = (list: typeof a): Move => ({
          rate: { num: 24, den: 1 },
          samples: list.map(({ entrancePupilMm, ...rest }, frame) => ({ ...sampleOf(frame, { ...LEVEL, ...rest }), entrancePupilMm })),
        });
        expect(faultyNumbers(compareMoves(made(a), made(b), SETTINGS))).toEqual([]);
      }),
    );
  });
});
