import { describe, expect, it } from 'vitest';
import { curveOf } from '../../../src/core/optics/along-take.ts';
import type { CameraState } from '../../../src/core/optics/camera-state.ts';
import { LEAD, PLATE, ROOM } from './optics-cameras.ts';

const FRAMES = { start: 0, end: 48 };
const zoom = (late: number) => (frame: number): CameraState => ({ ...LEAD, focalLengthMm: 35 + Math.max(0, frame - 10 - late) * 0.1 });

describe('a value followed along a take', () => {
  it('costs px at the frames in which the second pass zooms late', () => {
    const curve = curveOf('focalLength', { first: zoom(0), second: zoom(2) }, FRAMES, PLATE, ROOM);
    expect(curve).toMatchObject({ unit: 'px', points: { length: 48 } });
    expect(curve.points.slice(0, 11).every(({ amount }) => amount === 0)).toBe(true);
    // 0.2 mm of 35.2 mm at the corner, 2315.3 px from the middle.
    expect(curve.worst).toMatchObject({ frame: 12, first: expect.closeTo(35.2, 9), second: 35, amount: expect.closeTo((2315.32 * 0.2) / 35.2, 2) });
  });

  it('counts focus as blur and the iris in stops', () => {
    const focus = curveOf('focus', { first: () => LEAD, second: (frame) => ({ ...LEAD, focusM: frame < 24 ? 2 : 2.5 }) }, FRAMES, PLATE, ROOM);
    // The wall at 6 m changes a little more than the performer at 2 m, who goes 7.47 px soft.
    expect(focus.worst).toMatchObject({ frame: 24, amount: expect.closeTo(7.5598, 3) });
    const iris = curveOf('iris', { first: () => LEAD, second: () => ({ ...LEAD, iris: { number: 4, kind: 'f' } }) }, FRAMES, PLATE, ROOM);
    expect(iris).toMatchObject({ unit: 'stops', worst: { frame: 0, amount: expect.closeTo(1, 9) } });
  });

  it('leaves frames out in which either pass has no value', () => {
    const holed = (frame: number): CameraState => (frame % 2 === 0 ? LEAD : { ...LEAD, tiltDeg: Number.NaN });
    expect(curveOf('tilt', { first: () => LEAD, second: holed }, FRAMES, PLATE, ROOM).points).toHaveLength(24);
    const { iris: _iris, ...unset } = LEAD;
    expect(curveOf('focus', { first: () => unset, second: () => ({ ...unset, focusM: 3 }) }, FRAMES, PLATE, ROOM)).toEqual({ of: 'focus', unit: 'px', points: [] });
  });
});
