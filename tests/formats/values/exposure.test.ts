import { describe, expect, it } from 'vitest';
import { readExposureIndex } from '../../../src/formats/values/exposure-index.ts';
import { readFilters } from '../../../src/formats/values/filters.ts';
import { readShutter } from '../../../src/formats/values/shutter.ts';
import { readTint, readWhiteBalance } from '../../../src/formats/values/white-balance.ts';
import { readsAs, refuses, saysNothing } from './reads-as.ts';

describe('a shutter in a cell', () => {
  readsAs(readShutter, [
    ['172.8°', { kind: 'angle', degrees: 172.8 }],
    ['172,8 º', { kind: 'angle', degrees: 172.8 }],
    ['172.8 deg', { kind: 'angle', degrees: 172.8 }],
    ['180', { kind: 'angle', degrees: 180 }],
    ['172.800', { kind: 'angle', degrees: 172.8 }],
    ['86.4', { kind: 'angle', degrees: 86.4 }],
    ['45°', { kind: 'angle', degrees: 45 }],
    ['90', { kind: 'angle', degrees: 90 }, 'deg'],
    ['360°', { kind: 'angle', degrees: 360 }],
    ['1/48', { kind: 'time', seconds: 0.0208333333333 }],
    ['1/48 s', { kind: 'time', seconds: 0.0208333333333 }],
    ['1/48sec', { kind: 'time', seconds: 0.0208333333333 }],
    ['1/47.95', { kind: 'time', seconds: 0.0208550573514 }],
    ['20.000 ms', { kind: 'time', seconds: 0.02 }],
    ['0.02 s', { kind: 'time', seconds: 0.02 }],
    ['20833 µs', { kind: 'time', seconds: 0.020833 }],
    ['48', { kind: 'time', seconds: 0.0208333333333 }, '1/s'],
    ['20', { kind: 'time', seconds: 0.02 }, 'ms'],
  ]);

  it('says that a small bare number may be the 48 of 1/48', () => {
    expect(readShutter('48')).toEqual({ kind: 'value', value: { kind: 'angle', degrees: 48 }, assumed: expect.stringMatching(/not 1\/48 s/) });
    expect(readShutter('90')).toMatchObject({ assumed: expect.stringMatching(/degrees/) });
  });

  saysNothing(readShutter, ['', '--', '0', 'n.a.']);
  refuses(readShutter, ['361°', '-180', '1/0', 'half', '180 rpm', '1/48 m', '2/48']);
});

describe('a white balance in a cell', () => {
  readsAs(readWhiteBalance, [['5600K', 5600], ['5600', 5600], ['3200 K', 3200], ['5600 kelvin', 5600], ['5600 °K', 5600], ['5,600 K', 5600], ['4300.0', 4300]]);
  saysNothing(readWhiteBalance, ['', '0', '0K', '--']);
  refuses(readWhiteBalance, ['tungsten', 'daylight', 'auto', '56', '5.6K', '-5600', '99999']);
});

describe('a tint in a cell', () => {
  readsAs(readTint, [['  0', 0], ['+2', 2], ['-3 CC', -3], ['−3', -3], ['0.5', 0.5], ['-0', 0]]);
  refuses(readTint, ['green', '1000']);
});

describe('an exposure index in a cell', () => {
  readsAs(readExposureIndex, [['800', 800], ['EI 800', 800], ['EI800', 800], ['ISO 800', 800], ['800 ASA', 800], ['ASA: 800', 800], ['1,600', 1600], ['400.0', 400], ['409600', 409_600]]);
  saysNothing(readExposureIndex, ['', '0', 'unknown']);
  refuses(readExposureIndex, ['native', '-800', '800/500', '3.5']);
});

describe('filters in a cell', () => {
  // Density 0.3 is one stop, and a third of 0.3 about a third of a stop: density = log10(1/transmittance), ISO 5. How crews shorten
  // it (ND6, 85N6) is common practice, no source.
  readsAs(readFilters, [
    ['ND.6', { text: 'ND.6', ndDensity: 0.6 }],
    ['ND 0.6', { text: 'ND 0.6', ndDensity: 0.6 }],
    ['nd0,6', { text: 'nd0,6', ndDensity: 0.6 }],
    ['ND6', { text: 'ND6', ndDensity: 0.6 }],
    ['ND 12', { text: 'ND 12', ndDensity: 1.2 }],
    ['0.9ND', { text: '0.9ND', ndDensity: 0.9 }],
    ['IRND 1.2', { text: 'IRND 1.2', ndDensity: 1.2 }],
    ['ND 0.9 + Pola', { text: 'ND 0.9 + Pola', ndDensity: 0.9 }],
    ['ND.3 + ND.6', { text: 'ND.3 + ND.6', ndDensity: 0.9 }],
    ['85N6', { text: '85N6', ndDensity: 0.6 }],
    ['ND 1/4', { text: 'ND 1/4', ndDensity: 0.602 }],
    ['clear', { text: 'clear', ndDensity: 0 }],
    ['none', { text: 'none', ndDensity: 0 }],
    ['No Filter', { text: 'No Filter', ndDensity: 0 }],
    ['ND 0', { text: 'ND 0', ndDensity: 0 }],
    ['.6', { text: '.6', ndDensity: 0.6 }, 'nd'],
    ['6', { text: '6', ndDensity: 0.6 }, 'nd'],
    ['Pola', { text: 'Pola' }],
    ['85', { text: '85' }],
    ['1/4 BPM', { text: '1/4 BPM' }],
    // A factor to some, nothing to others; a graduated filter has no density of the whole.
    ['ND8', { text: 'ND8' }],
    ['ND64', { text: 'ND64' }],
    ['ND.6 grad', { text: 'ND.6 grad' }],
    ['ND.6 SE', { text: 'ND.6 SE' }],
    ['ND', { text: 'ND' }],
    ['ND.6 + ND?', { text: 'ND.6 + ND?' }],
    ['blend 6', { text: 'blend 6' }],
  ]);
  saysNothing(readFilters, ['', '--', 'n.a.', '?']);
});
