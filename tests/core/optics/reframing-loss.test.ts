import { describe, expect, it } from 'vitest';
import { rollLoss, tiltLoss, zoomLoss } from '../../../src/core/optics/reframing-loss.ts';

/** All by similar triangles, worked by hand: a lens of f sees an angle whose half has the tangent (size of the sensor / 2) / f. */
describe('what re-framing costs', () => {
  it('is 30 % of width and height from 35 to 50 mm, either way round', () => {
    expect(zoomLoss(35, 50).width).toBeCloseTo(0.3, 12);
    expect(zoomLoss(50, 35)).toEqual(zoomLoss(35, 50));
    expect(zoomLoss(35, 50).height).toBe(zoomLoss(35, 50).width);
  });

  it('is nothing where nothing differs', () => {
    expect(zoomLoss(35, 35).width).toBe(0);
    expect(tiltLoss(0, 4000, 2160).height).toBe(0);
    expect(rollLoss(0, 4096, 2160).width).toBe(0);
  });

  it('is a strip of the height for a tilt: all of it when the view has wandered out, half when the edge points where the middle was', () => {
    // tan a = 1080 / 1080: a view of 90°. A tilt of 45° brings its lower edge to where the middle was.
    expect(tiltLoss(45, 1080, 2160)).toEqual({ width: 0, height: expect.closeTo(0.5, 12) });
    expect(tiltLoss(-45, 1080, 2160)).toEqual(tiltLoss(45, 1080, 2160));
    expect(tiltLoss(90, 1080, 2160).height).toBe(1);
    expect(tiltLoss(120, 1080, 2160).height).toBe(1);
  });

  it('is for a roll what is cut off until the upright picture fits', () => {
    // A square turned by 45° holds an upright square of 1/√2 of its side.
    expect(rollLoss(45, 1000, 1000).width).toBeCloseTo(1 - Math.SQRT1_2, 12);
    // A picture twice as wide as high turned by 90° holds one of half its width.
    expect(rollLoss(90, 2000, 1000).width).toBeCloseTo(0.5, 12);
  });
});
