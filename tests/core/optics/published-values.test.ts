import { describe, expect, it } from 'vitest';
import { angleOfView } from '../../../src/core/optics/angle-of-view.ts';
import { depthOfField, hyperfocal } from '../../../src/core/optics/depth-of-field.ts';
import { exactStop, shutterSpeed, stopDifference, stopsOfDensity, stopsOfFactor, exposureTime, transmittance } from '../../../src/core/optics/exposure.ts';
import { rowDelay } from '../../../src/core/optics/motion-blur.ts';

/** What is checked, what gemel says, what was published, and how near the two must be (half of the last printed digit, unless the source rounds worse). */
type Published = readonly [what: string, ours: number, published: number, within: number];

const FOOT = 304.8;
const INCH = 25.4;

function checkAll(source: string, rows: readonly Published[]): void {
  describe(source, () => {
    it.each(rows)('%s', (_what, ours, published, within) => {
      expect(Math.abs(ours - published)).toBeLessThanOrEqual(within * 1.0001);
    });
  });
}

const STILL = { widthMm: 36, heightMm: 24 };

function viewRow(focalLengthMm: number, horizontal: number, vertical: number, diagonal: number): readonly Published[] {
  const view = angleOfView(STILL, focalLengthMm);
  return [
    [`${focalLengthMm} mm on 36 × 24, horizontal`, view.horizontalDeg, horizontal, 0.05],
    [`${focalLengthMm} mm on 36 × 24, vertical`, view.verticalDeg, vertical, 0.05],
    [`${focalLengthMm} mm on 36 × 24, diagonal`, view.diagonalDeg, diagonal, 0.05],
  ];
}

checkAll('angle of view: photonstophotos.net, table of field of view values, 2006', [
  ...viewRow(18, 90.0, 67.4, 100.5),
  ...viewRow(24, 73.7, 53.1, 84.1),
  ...viewRow(35, 54.4, 37.8, 63.4),
  ...viewRow(50, 39.6, 27.0, 46.8),
  ...viewRow(85, 23.9, 16.1, 28.6),
  ...viewRow(135, 15.2, 10.2, 18.2),
]);

checkAll('angle of view: calhub.xyz, camera field of view', [['50 mm on 36 mm', angleOfView(STILL, 50).horizontalDeg, 39.598, 0.0005]]);

function fieldRow(what: string, focalLengthMm: number, stop: number, circleMm: number, focusMm: number) {
  const field = depthOfField({ focalLengthMm, stop }, circleMm, focusMm);
  const farMm = field.farMm === 'infinity' ? Number.POSITIVE_INFINITY : field.farMm;
  return { what, near: field.nearMm, far: farMm, hyperfocalMm: hyperfocal({ focalLengthMm, stop }, circleMm) };
}

const tenFeet = fieldRow('50 mm f/4 at 10 ft, c 0.03', 50, 4, 0.03, 10 * FOOT);
const tenFeetFine = fieldRow('50 mm f/4 at 10 ft, c 0.019', 50, 4, 0.019, 10 * FOOT);
checkAll('depth of field: insyncpubs.com, article 11 (to the inch)', [
  ['50 mm f/4 at 10 ft, c 0.03, near 8 ft 9 in', tenFeet.near, 8 * FOOT + 9 * INCH, INCH / 2],
  ['50 mm f/4 at 10 ft, c 0.03, far 11 ft 8 in', tenFeet.far, 11 * FOOT + 8 * INCH, INCH / 2],
  ['50 mm f/4 at 10 ft, c 0.019, near 9 ft 2 in', tenFeetFine.near, 9 * FOOT + 2 * INCH, INCH / 2],
  ['50 mm f/4 at 10 ft, c 0.019, far 11 ft', tenFeetFine.far, 11 * FOOT, INCH / 2],
]);

/** Near and far limit and hyperfocal distance in feet, c 0.02; the chart's f-numbers are printed marks and stand for powers of √2. */
function chartRow(focalLengthMm: number, mark: number, focusFt: number, near: number, far: number, hyper: number, within: number): readonly Published[] {
  const row = fieldRow('', focalLengthMm, exactStop(mark), 0.02, focusFt * FOOT);
  const name = `${focalLengthMm} mm f/${mark} at ${focusFt} ft`;
  return [
    [`${name}, near`, row.near / FOOT, near, 0.005],
    ...(Number.isFinite(far) ? [[`${name}, far`, row.far / FOOT, far, within] as const] : []),
    [`${name}, hyperfocal`, row.hyperfocalMm / FOOT, hyper, 0.005],
  ];
}

checkAll('depth of field: naturelyrics.com, chart for 11 to 14 mm lenses', [
  ...chartRow(11, 4, 5, 2.5, Number.POSITIVE_INFINITY, 5.0, 0),
  ...chartRow(12, 8, 2, 1.2, 5.95, 2.99, 0.005),
  ...chartRow(12, 11, 2, 1.03, 32.8, 2.13, 0.05),
  ...chartRow(12, 16, 1.5, 0.75, 140.6, 1.52, 0.05),
  ...chartRow(12, 22, 1, 0.52, 12.5, 1.08, 0.05),
  ...chartRow(13, 11, 2, 1.11, 9.94, 2.49, 0.005),
  ...chartRow(14, 4, 9, 4.26, Number.POSITIVE_INFINITY, 8.08, 0),
]);

it('everything behind is sharp where the chart of naturelyrics.com prints infinity', () => {
  expect(depthOfField({ focalLengthMm: 11, stop: 4 }, 0.02, 5 * FOOT).farMm).toBe('infinity');
  expect(depthOfField({ focalLengthMm: 14, stop: 4 }, 0.02, 9 * FOOT).farMm).toBe('infinity');
});

// The lesson takes 75 mm for 3 inches, leaves out "+ f" and cuts digits off instead of rounding.
const lesson = fieldRow('', 3 * INCH, 8, 0.002 * INCH, 15 * FOOT);
checkAll('depth of field: armycommunications.tpub.com, photography course SS0507', [
  ['75 mm f/8, c 0.002 in, hyperfocal', (lesson.hyperfocalMm - 3 * INCH) / FOOT, 46.8, 0.1],
  ['75 mm f/8 at 15 ft, near', lesson.near / FOOT, 11.3, 0.12],
  ['75 mm f/8 at 15 ft, far', lesson.far / FOOT, 22, 0.12],
]);

checkAll('hyperfocal distance, mm: calculators9.com (with + f)', [['50 mm f/8, c 0.03', hyperfocal({ focalLengthMm: 50, stop: 8 }, 0.03), 10_467, 0.5]]);
checkAll('hyperfocal distance, mm: calculator.7search.cc (without + f)', [
  ['50 mm f/8, c 0.02', hyperfocal({ focalLengthMm: 50, stop: 8 }, 0.02) - 50, 15_625, 0.5],
  ['35 mm f/11, c 0.03', hyperfocal({ focalLengthMm: 35, stop: 11 }, 0.03) - 35, 3712.12, 0.005],
]);
checkAll('hyperfocal distance, mm: cabbagetownphoto.com (without + f)', [['50 mm f/8, c 0.026', hyperfocal({ focalLengthMm: 50, stop: 8 }, 0.026) - 50, 12_019, 0.5]]);
checkAll('hyperfocal distance, mm: Hawkins and Avon, Photography, 1979, as quoted on the PDML list, message 176189 (without + f)', [
  ['70 mm f/8, c 0.021', hyperfocal({ focalLengthMm: 70, stop: 8 }, 0.021) - 70, 29_167, 0.5],
  ['70 mm f/22, c 0.021', hyperfocal({ focalLengthMm: 70, stop: 22 }, 0.021) - 70, 10_606, 0.5],
  // Another family of formulas, u·f·(f + c·N) / (f² + u·N·c): 0.3 % away.
  ['70 mm f/22 at 10 606 mm, near', depthOfField({ focalLengthMm: 70, stop: 22 }, 0.021, 10_606).nearMm, 5338, 20],
]);

const SENSOR_FPS = 24_000 / 1001;
checkAll('shutter angles as 1/x s at 23.976 fps: a camera maker\'s operation guide, page 38 (manualshive.com)', [
  ['360°', shutterSpeed(360, SENSOR_FPS), 23.98, 0.005],
  ['270°', shutterSpeed(270, SENSOR_FPS), 31.97, 0.005],
  ['180°', shutterSpeed(180, SENSOR_FPS), 47.95, 0.005],
  ['172.8°', shutterSpeed(172.8, SENSOR_FPS), 49.95, 0.005],
  ['144°', shutterSpeed(144, SENSOR_FPS), 59.94, 0.005],
  // Printed 63.95; 63.936 rounds to 63.94.
  ['135°', shutterSpeed(135, SENSOR_FPS), 63.95, 0.015],
  ['90°', shutterSpeed(90, SENSOR_FPS), 95.9, 0.005],
  ['45°', shutterSpeed(45, SENSOR_FPS), 191.81, 0.005],
  ['11.2°', shutterSpeed(11.2, SENSOR_FPS), 770.66, 0.005],
  ['8.6°', shutterSpeed(8.6, SENSOR_FPS), 1003.65, 0.005],
  ['4°', shutterSpeed(4, SENSOR_FPS), 2157.84, 0.005],
]);
checkAll('shutter times at 6 fps: cinematography.com, topic 24017', [
  ['180° is 1/12 s', exposureTime(180, 6), 1 / 12, 1e-12],
  ['90° is 1/24 s', exposureTime(90, 6), 1 / 24, 1e-12],
  ['45° is 1/48 s', exposureTime(45, 6), 1 / 48, 1e-12],
]);

// Printed stops are nominal: 0.3 is called 1 stop and takes 0.9966.
checkAll('neutral density: opticalglasscn.com, ND table (nominal)', [
  ['0.3 is 1 stop', stopsOfDensity(0.3), 1, 0.015],
  ['0.6 is 2 stops', stopsOfDensity(0.6), 2, 0.015],
  ['0.9 is 3 stops', stopsOfDensity(0.9), 3, 0.015],
  ['1.2 is 4 stops', stopsOfDensity(1.2), 4, 0.015],
  ['0.3 lets 50 % through', transmittance(0.3) * 100, 50, 0.15],
  ['0.6 lets 25 % through', transmittance(0.6) * 100, 25, 0.15],
  ['0.9 lets 12.5 % through', transmittance(0.9) * 100, 12.5, 0.15],
  ['1.2 lets 6.25 % through', transmittance(1.2) * 100, 6.25, 0.15],
  ['ND400 takes 8 2/3 stops', stopsOfFactor(400), 8 + 2 / 3, 0.05],
  ['2.6 takes 8 2/3 stops', stopsOfDensity(2.6), 8 + 2 / 3, 0.05],
]);
checkAll('neutral density: camera-wiki.org, Neutral density filter (nominal)', [
  ['0.1 is 1/3 stop', stopsOfDensity(0.1), 1 / 3, 0.05],
  ['0.4 is 1 1/3 stops', stopsOfDensity(0.4), 4 / 3, 0.05],
  ['1.0 is 3 1/3 stops', stopsOfDensity(1), 10 / 3, 0.05],
  ['3.0 is 10 stops', stopsOfDensity(3), 10, 0.05],
]);

checkAll('stops: scantips.com, camera mathematics', [['f/11 lets in 4 EV less than f/2.8', stopDifference(exactStop(2.8), exactStop(11)), -4, 1e-9]]);
checkAll('stops: armycommunications.tpub.com, photography course SS0508', [
  ['11 stands for 11.313708', exactStop(11), 11.313708, 5e-7],
  // Printed as four times the rounded 11.313708.
  ['45 stands for 45.254832', exactStop(45), 45.254832, 4 * 5e-7],
]);

checkAll('rolling shutter: horshack\'s page on readout times', [['50 ms over 4000 rows, µs a row', rowDelay(0.05, 4000) * 1e6, 12.5, 1e-9]]);
