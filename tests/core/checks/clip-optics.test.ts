import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { clipOptics, opticsSettings } from '../../../src/core/checks/clip-optics.ts';
import type { OpticsSettings } from '../../../src/core/checks/clip-optics.ts';
import type { Clip } from '../../../src/core/material/clip.ts';
import { blurCost } from '../../../src/core/optics/blur-cost.ts';
import { differenceCost } from '../../../src/core/optics/difference-cost.ts';
import type { Part } from '../../../src/core/optics/parts.ts';
import { valueOf, withValue } from '../../../src/core/optics/parts.ts';
import { opticsOf } from '../../../src/formats/report/read-optics.ts';
import { formatReadClips } from '../../../src/formats/report/read-clips.ts';
import { faultyNumbers } from '../optics/faulty-numbers.ts';
import { defaultConfig } from '../../support/default-config.ts';
import { chosen, makeFullClip } from '../../support/make-matched.ts';
import { defaultOptics } from '../../support/optics-settings.ts';

const FOOT = 0.3048;

/** A camera whose 6000 × 4000 px show 36 × 24 mm. */
const STILL: OpticsSettings = {
  ...defaultOptics(),
  sensorModes: [{ models: ['Orlop Still'], mode: 'full', widthPx: 6000, heightPx: 4000, area: { widthMm: 36, heightMm: 24 }, source: 'invented' }],
};
const full = makeFullClip(1, 'lead');

function stillClip(focalLengthMm: number, stop: number, focusM = Number.POSITIVE_INFINITY): Clip {
  return {
    ...full,
    lens: { focalLengthMm: chosen(focalLengthMm), stop: chosen({ kind: 'f' as const, number: stop }), focusDistanceM: chosen(focusM) },
    picture: { raster: chosen({ width: 6000, height: 4000 }), cameraModel: chosen('Orlop Still') },
  };
}

/** What `gemel read --json` gives for a clip. */
function read(clip: Clip, settings: OpticsSettings = STILL) {
  const [shown] = JSON.parse(formatReadClips([clip], (one) => clipOptics(one, settings)));
  return shown.optics;
}

describe('the field of view that read shows', () => {
  // photonstophotos.net, table of field of view values, 2006: horizontal, vertical, diagonal on 36 × 24 mm, to a tenth of a degree.
  it.each([[18, 90.0, 67.4, 100.5], [24, 73.7, 53.1, 84.1], [35, 54.4, 37.8, 63.4], [50, 39.6, 27.0, 46.8], [85, 23.9, 16.1, 28.6], [135, 15.2, 10.2, 18.2]])('is the published one of %d mm on 36 × 24 mm', (mm, horizontal, vertical, diagonal) => {
    const { atInfinity } = read(stillClip(mm, 4)).fieldOfView;
    expect(Math.abs(atInfinity.horizontalDeg - horizontal)).toBeLessThanOrEqual(0.0501);
    expect(Math.abs(atInfinity.verticalDeg - vertical)).toBeLessThanOrEqual(0.0501);
    expect(Math.abs(atInfinity.diagonalDeg - diagonal)).toBeLessThanOrEqual(0.0501);
  });

  it('is the published one of calhub.xyz to the thousandth', () => {
    expect(read(stillClip(50, 4)).fieldOfView.atInfinity.horizontalDeg).toBeCloseTo(39.598, 3);
  });

  it('shows as much of a wall as one right triangle says', () => {
    // 50 mm focused at 3 m from the sensor: u = 2949.1377 mm, v = 50.86233 mm (thin lens), so 36 mm show 36 · u / v = 2087.4 mm.
    const { sizeAtFocus, asFocused } = read(stillClip(50, 4, 3)).fieldOfView;
    expect(sizeAtFocus.widthM).toBeCloseTo(2.0874, 4);
    expect(asFocused.horizontalDeg).toBeCloseTo((2 * Math.atan(18 / 50.86233) * 180) / Math.PI, 4);
  });
});

describe('the depth of field that read shows', () => {
  it('is the published one, to the inch', () => {
    // insyncpubs.com, article 11: 50 mm f/4 at 10 ft, c 0.03: 8 ft 9 in to 11 ft 8 in, counted from the lens. The barrel counts from the sensor, v = 1 / (1/50 − 1/3048) mm behind it.
    const behindM = 0.001 / (1 / 50 - 1 / 3048);
    const { depthOfField } = read(stillClip(50, 4, 10 * FOOT + behindM), { ...STILL, circleMm: 0.03 });
    expect(Math.abs(depthOfField.nearM - behindM - 8.75 * FOOT)).toBeLessThan(FOOT / 24);
    expect(Math.abs(depthOfField.farM - behindM - (11 + 8 / 12) * FOOT)).toBeLessThan(FOOT / 24);
  });

  it('has the published hyperfocal distance', () => {
    // Hawkins and Avon, Photography, 1979, as quoted on the PDML list, message 176189: 70 mm f/8, c 0.021: 29 167 mm, without + f. From the sensor: + f + image distance.
    const hyperfocalM = read(stillClip(70, 8), { ...STILL, circleMm: 0.021 }).hyperfocalM;
    const fromLens = 29.167 + 0.07;
    expect(Math.abs(hyperfocalM - (fromLens + 0.07 * fromLens / (fromLens - 0.07)))).toBeLessThan(0.001);
  });

  it('goes to infinity as a word, never as a number JSON does not have', () => {
    // naturelyrics.com, chart for 11 to 14 mm lenses: 11 mm f/4 at 5 ft, c 0.02: 2.5 ft to infinity, from the lens.
    const behindM = 0.001 / (1 / 11 - 1 / 1524);
    const { depthOfField } = read(stillClip(11, 4, 5 * FOOT + behindM), { ...STILL, circleMm: 0.02 });
    expect(depthOfField.farM).toBe('infinity');
    expect(Math.abs((depthOfField.nearM - behindM) / FOOT - 2.5)).toBeLessThan(0.006);
  });

  it('names the circle it was worked out with, in mm and in px, and every assumption', () => {
    const optics = read({ ...full, position: {} });
    // 24.89 mm over 4096 px (the width of Super 35 film) are 0.00607666 mm a px.
    expect(optics.circleOfConfusion).toEqual({ mm: 0.025, px: 4.114102 });
    expect(optics.assumptions).toEqual([
      expect.stringContaining('the sensor is taken to be as wide as Super 35 film, 24.89 mm'),
      expect.stringContaining('the T-number stands in for the f-number'),
      expect.stringContaining('the subject is taken to stand where the lens is focused, 3 m'),
      expect.stringContaining('the camera is taken to look level'),
      expect.stringContaining('background distance is not on record'),
    ]);
  });
});

const aLens = fc.record({ mm: fc.double({ min: 18, max: 135, noNaN: true }), focusM: fc.double({ min: 1.5, max: 9, noNaN: true }), stop: fc.double({ min: 1.4, max: 11, noNaN: true }), far: fc.double({ min: 1.3, max: 6, noNaN: true }), tilt: fc.double({ min: -25, max: 25, noNaN: true }) });

/** A clip with such a lens, a wall behind a performer who stands where it is focused. */
function clipWith({ mm, focusM, stop, far, tilt }: { readonly mm: number; readonly focusM: number; readonly stop: number; readonly far: number; readonly tilt: number }): Clip {
  return {
    ...full,
    lens: { focalLengthMm: chosen(mm), focusDistanceM: chosen(focusM), stop: chosen({ kind: 'f' as const, number: stop }) },
    position: { heightM: chosen(1.42), tiltDeg: chosen(tilt), rollDeg: chosen(0), subjectDistanceM: chosen(focusM), backgroundDistanceM: chosen(focusM * far) },
  };
}

describe('the tolerances of a clip', () => {
  it('reach their limit within 1 % when they are fed back through the optics', () => {
    fc.assert(
      fc.property(aLens, (lens) => {
        const { box, camera, plate, planes } = clipOptics(clipWith(lens), defaultOptics());
        if (plate === undefined) throw new Error('the raster is on record');
        for (const { of, tolerance } of box) {
          if (tolerance.kind === 'range') {
            const ends = [tolerance.nearestM, ...(tolerance.farthestM === 'infinity' ? [] : [tolerance.farthestM])];
            for (const focusM of ends) {
              const cost = blurCost(camera, { ...camera, focusM }, plate, planes);
              expect(cost.kind === 'blur' ? cost.worstPx / tolerance.limit : 0).toBeCloseTo(1, 2);
            }
          }
          if (tolerance.kind !== 'plus-minus' || tolerance.limitedBy === 'exposure') continue;
          const part = of as Part;
          const base = valueOf(part, camera) ?? 0;
          const scale = tolerance.unit === 'mm' && part !== 'focalLength' ? 0.001 : 1;
          const worst = [1, -1].map((sign) => {
            const cost = differenceCost(withValue(part, camera, base), withValue(part, camera, base + sign * tolerance.amount * scale), plate, planes, [part]);
            if (cost.kind !== 'cost' || cost.parallax.kind === 'by-distance') throw new Error(JSON.stringify(cost));
            return tolerance.limitedBy === 'shift' ? cost.filmed.worstPx : cost.parallax.px;
          });
          expect(Math.max(...worst) / tolerance.limit).toBeGreaterThan(0.99);
          expect(Math.max(...worst) / tolerance.limit).toBeLessThan(1.01);
        }
      }),
      { numRuns: 25 },
    );
  });

  it('are those of the pocket calculator', () => {
    // 35 mm on 24.89 mm over 4096 px is F = 5759.7 px. Level, 3 m before 6 m, 1 px of parallax: 1 / (F · (1/3000 − 1/6000)) = 1.0417 mm to the side. 2 px over the 2315.3 px to the corner: 0.0495° of roll.
    const { box } = clipOptics({ ...full, position: { ...full.position, tiltDeg: chosen(0) } }, defaultOptics());
    const amount = (of: string) => box.map((entry) => (entry.of === of && entry.tolerance.kind === 'plus-minus' ? entry.tolerance.amount : undefined)).find((found) => found !== undefined);
    expect(amount('side')).toBeCloseTo(1.0417, 3);
    expect(amount('roll')).toBeCloseTo((2 / 2315.25) * (180 / Math.PI), 4);
    expect(amount('iris')).toBe(0.1);
  });

  it('follow the limits of the pipeline', () => {
    const config = defaultConfig();
    const twice = opticsSettings({ ...config, tolerances: { ...config.tolerances, parallaxPx: { warn: 2 * config.tolerances.parallaxPx.warn, stop: 99 } } });
    const side = (settings: OpticsSettings): number => {
      const found = clipOptics(full, settings).box.find(({ of }) => of === 'side')?.tolerance;
      return found?.kind === 'plus-minus' ? found.amount : Number.NaN;
    };
    expect(side(twice) / side(defaultOptics())).toBeCloseTo(2, 2);
  });

  it('name the measurement that is missing', () => {
    const { box } = clipOptics({ ...full, lens: { focalLengthMm: chosen(35) }, position: {} }, defaultOptics());
    const missing = Object.fromEntries(box.flatMap(({ of, tolerance }) => (tolerance.kind === 'unknown' ? [[of, tolerance.missing]] : [])));
    expect(missing).toMatchObject({ focus: ['focus distance', 'stop', 'subject distance'], height: ['subject distance'], side: ['subject distance'], forward: ['subject distance'], iris: ['stop'] });
    expect(clipOptics({ ...full, picture: {} }, defaultOptics()).box).toEqual([]);
  });
});

describe('what no camera can have', () => {
  const odd = fc.constantFrom(Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, -0, 0, -1, 1e-320, 1e300, 409.5, 35, 2);
  const values = fc.tuple(odd, odd, odd, odd, odd, odd, odd, odd, odd, odd);

  it('is told, and never comes out as NaN, infinity or −0', () => {
    fc.assert(
      fc.property(values, ([mm, focusM, stop, heightM, tiltDeg, rollDeg, subjectM, backgroundM, squeeze, px]) => {
        const clip: Clip = {
          ...full,
          lens: { focalLengthMm: chosen(mm), focusDistanceM: chosen(focusM), stop: chosen({ kind: 'T' as const, number: stop }), squeeze: chosen(squeeze) },
          position: { heightM: chosen(heightM), tiltDeg: chosen(tiltDeg), rollDeg: chosen(rollDeg), subjectDistanceM: chosen(subjectM), backgroundDistanceM: chosen(backgroundM) },
          picture: { raster: chosen({ width: px, height: px }) },
        };
        const optics = clipOptics(clip, defaultOptics());
        // Focus at infinity is a distance; nothing else is.
        const { planes: _planes, camera: _camera, ...shown } = optics;
        expect(faultyNumbers(shown)).toEqual([]);
        expect(JSON.stringify(opticsOf(optics))).not.toMatch(/NaN|"-?Infinity"|-0[,}]/);
      }),
      { numRuns: 60 },
    );
  });

  it('is named with what was found and what is possible', () => {
    const clip = { ...full, lens: { ...full.lens, focalLengthMm: chosen(-35) }, position: { ...full.position, tiltDeg: chosen(409.5) } };
    expect(read(clip).impossible).toEqual([
      'focal length must be a length from 0.1 mm to 100 m, found -35',
      'tilt must be an angle (409.5 is how a tilt sensor says "out of range"), found 409.5',
    ]);
  });
});
