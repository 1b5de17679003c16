import { describe, expect, it } from 'vitest';
import { angleOfView } from '../../../src/core/optics/angle-of-view.ts';
import { blurDisc, depthOfField, hyperfocal } from '../../../src/core/optics/depth-of-field.ts';
import { exactStop, exposureDifference, exposureTime, timeDifference } from '../../../src/core/optics/exposure.ts';
import { barrelFromLens, breathing, conjugates, imageSize } from '../../../src/core/optics/image-scale.ts';
import { blurLength, blurRatio, rollingSkew } from '../../../src/core/optics/motion-blur.ts';
import { displacement, focalInPixels } from '../../../src/core/optics/projection.ts';
import { PLATE, poseWith } from './optics-cameras.ts';

// Worked out apart from gemel with numpy from the same formulas: they guard against slips of the code, not of the formulas.

const EDGE = { x: 2048, y: 0 };
const CORNER = { x: 2048, y: 1080 };

describe('image scale (derived)', () => {
  it('finds subject and picture of a 50 mm lens whose barrel reads 3 m', () => {
    const { subjectMm, imageMm, magnification } = conjugates(50, 3000);
    expect(subjectMm).toBeCloseTo(2949.1377, 4);
    expect(imageMm).toBeCloseTo(50.86233, 5);
    expect(magnification).toBeCloseTo(0.0172465, 7);
  });

  it('counts the px of a head of 230 mm at 3 m on a 50 mm lens', () => {
    expect(imageSize(230, 50, 3000, 24.89 / 4096)).toBeCloseTo((230 * 0.0172465 * 4096) / 24.89, 1);
  });

  it('makes the picture larger by 0.85 % from 3 m to 2 m on a 50 mm lens, by 2.56 % from infinity to 2 m', () => {
    expect(breathing(50, 3000, 2000) * 100).toBeCloseTo(0.8547009, 7);
    expect(breathing(50, 3000, 2000) * 2048).toBeCloseTo(17.504, 3);
    expect(breathing(50, Number.POSITIVE_INFINITY, 2000) * 100).toBeCloseTo(2.5641, 4);
    expect(breathing(50, 2000, Number.POSITIVE_INFINITY) * 100).toBeCloseTo(-2.5, 7);
  });
});

describe('angle of view (derived)', () => {
  it('widens across by the squeeze of an anamorphic lens', () => {
    const area = { widthMm: 24.89, heightMm: 18.66 };
    expect(angleOfView(area, 50, 2).horizontalDeg).toBeCloseTo(52.928, 3);
    expect(angleOfView(area, 50).horizontalDeg).toBeCloseTo(27.954, 3);
    expect(angleOfView(area, 50, 2).verticalDeg).toBe(angleOfView(area, 50).verticalDeg);
  });

  it('narrows when the lens is focused near', () => {
    expect(angleOfView({ widthMm: 36, heightMm: 24 }, 50, 1, barrelFromLens(50, 1000)).horizontalDeg).toBeCloseTo(37.761, 3);
  });

  it.each([[18, 69.32], [25, 52.93], [32, 42.5], [35, 39.15], [40, 34.56], [50, 27.95], [75, 18.84], [100, 14.19]])(
    'of a %d mm lens on Super 35 width is %d°',
    (focalLengthMm, degrees) => {
      expect(angleOfView(PLATE.sensor, focalLengthMm).horizontalDeg).toBeCloseTo(degrees, 2);
    },
  );
});

describe('displacement (derived)', () => {
  const still = poseWith();

  it('counts a 35 mm lens as 5759.74 px on 24.89 mm and 4096 px', () => {
    expect(focalInPixels(35, 24.89, 4096)).toBeCloseTo(5759.742869, 6);
  });

  it('halves the horizontal focal length on the squeezed raster of a 2× lens', () => {
    expect(focalInPixels(50, 24.89, 4096, 2)).toBeCloseTo(focalInPixels(50, 24.89, 4096) / 2, 9);
  });

  it('moves the picture by pan: 10.05 px in the middle, more at the edge of a wide lens', () => {
    const panned = poseWith({ panDeg: -0.1 });
    expect(displacement(still, panned, { x: 0, y: 0 }, 6000)?.x).toBeCloseTo(10.05266, 5);
    expect(displacement(still, panned, EDGE, 6000)?.x).toBeCloseTo(11.33066, 4);
    expect(displacement(still, panned, CORNER, 6000)).toEqual({ x: expect.closeTo(11.3307, 4), y: expect.closeTo(0.6723, 4) });
  });

  it('moves the edge by 113.95 px for 1° of pan', () => {
    expect(displacement(still, poseWith({ panDeg: -1 }), EDGE, 6000)?.x).toBeCloseTo(113.9549, 4);
  });

  it('turns the picture by roll', () => {
    const rolled = poseWith({ rollDeg: 0.1 });
    const length = (at: typeof EDGE): number => {
      const shift = displacement(still, rolled, at, 6000);
      return Math.hypot(shift?.x ?? 0, shift?.y ?? 0);
    };
    expect(length(CORNER)).toBeCloseTo(4.041, 3);
    expect(length(EDGE)).toBeCloseTo(3.5744, 4);
  });

  it('scales the picture by focal length', () => {
    expect(displacement(still, poseWith({}, 35.5), EDGE, 6000)?.x).toBeCloseTo(29.257143, 6);
    const corner = displacement(still, poseWith({}, 35.5), CORNER, 6000);
    expect(Math.hypot(corner?.x ?? 0, corner?.y ?? 0)).toBeCloseTo(33.075992, 6);
    expect(displacement(poseWith({}, 50), poseWith({}, 51), EDGE, 6000)?.x).toBeCloseTo(40.96, 6);
  });

  it('shifts near things more than far ones when the camera moves sideways', () => {
    const aside = poseWith({ xMm: -10 });
    const near = displacement(still, aside, { x: 0, y: 0 }, 2000)?.x ?? 0;
    const far = displacement(still, aside, { x: 0, y: 0 }, 6000)?.x ?? 0;
    expect(near).toBeCloseTo(28.7987, 4);
    expect(far).toBeCloseTo(9.5996, 4);
    expect(near - far).toBeCloseTo(19.1991, 4);
  });

  it('grows the picture when the camera dollies in', () => {
    expect(displacement(still, poseWith({ zMm: 10 }), EDGE, 2000)?.x).toBeCloseTo(10.29146, 5);
  });

  it('shifts near against far when the head turns 100 mm behind the entrance pupil', () => {
    const swung = poseWith({ panDeg: 1, xMm: 100 * Math.sin(Math.PI / 180), zMm: 100 * (Math.cos(Math.PI / 180) - 1) });
    const turned = poseWith({ panDeg: 1 });
    const parallax = (depth: number): number => (displacement(still, swung, { x: 0, y: 0 }, depth)?.x ?? 0) - (displacement(still, turned, { x: 0, y: 0 }, depth)?.x ?? 0);
    expect(parallax(2000) - parallax(6000)).toBeCloseTo(-3.3507, 2);
  });

  it('agrees with the stereo form of parallax, focal length · baseline / depth', () => {
    const left = poseWith({ focalX: 3979.911, focalY: 3979.911 });
    const right = { ...left, xMm: 193.001 };
    expect(displacement(left, right, { x: 0, y: 0 }, 224.343)?.x).toBeCloseTo(-3423.8947, 3);
  });
});

describe('depth of field and blur (derived)', () => {
  const setting = { focalLengthMm: 35, stop: 2.8 };

  it('finds the limits at 3 m and at the hyperfocal distance, and stays true beyond it', () => {
    const hyper = hyperfocal(setting, 0.025);
    expect(hyper).toBeCloseTo(17_535, 6);
    const field = depthOfField(setting, 0.025, 3000);
    expect(field.nearMm).toBeCloseTo(2565.3555, 4);
    expect(field.farMm).toBeCloseTo(3611.9711, 4);
    expect(depthOfField(setting, 0.025, hyper).nearMm).toBeCloseTo(8767.5, 6);
    expect(depthOfField(setting, 0.025, 1.2 * hyper)).toEqual({ nearMm: expect.closeTo(9562.807, 3), farMm: 'infinity' });
    expect(depthOfField({ focalLengthMm: 75, stop: 2.8 }, 0.025, 2000).nearMm).toBeCloseTo(1953.2098, 4);
    expect(depthOfField({ focalLengthMm: 75, stop: 2.8 }, 0.025, 2000).farMm).toBeCloseTo(2049.087, 4);
  });

  it('counts the blur of a subject out of focus', () => {
    expect(blurDisc(setting, 3000, 4000)).toBeCloseTo(0.0368887, 7);
    expect((blurDisc(setting, 3000, 4000) * 4096) / 24.89).toBeCloseTo(6.0706, 4);
    expect(blurDisc({ focalLengthMm: 75, stop: 2 }, 2100, 2000)).toBeCloseTo(0.06944444, 8);
  });
});

describe('exposure and motion blur (derived)', () => {
  it('balances T2.8, 180°, ND.6 against T4, 172.8°, ND.3', () => {
    const first = { stop: 2.8, exposureS: exposureTime(180, 24), density: 0.6 };
    const second = { stop: 4, exposureS: exposureTime(172.8, 24), density: 0.3 };
    expect(exposureDifference({ ...first, stop: exactStop(2.8) }, second)).toBeCloseTo(-0.0623, 4);
    expect(exposureDifference(first, second)).toBeCloseTo(-0.0915, 3);
  });

  it('loses 0.0589 stop from 180° to 172.8°', () => {
    expect(timeDifference(exposureTime(180, 24), exposureTime(172.8, 24))).toBeCloseTo(-0.0589, 4);
  });

  it('smears 40 px a frame over 20 px at 180° and 19.2 px at 172.8°', () => {
    expect(blurLength(40, 180)).toBe(20);
    expect(blurLength(40, 172.8)).toBeCloseTo(19.2, 9);
    expect(blurRatio(exposureTime(180, 24), exposureTime(172.8, 24))).toBeCloseTo(0.96, 9);
  });

  it('slants 40 px a frame by 7.1 px when 7.4 ms pass from the top row to the bottom row', () => {
    expect(rollingSkew(40, 0.0074, 24)).toBeCloseTo(7.104, 3);
  });
});
