import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readAngle, readPan, readTilt } from '../../../src/formats/values/angle.ts';
import { readRaster } from '../../../src/formats/values/raster.ts';
import { readSqueeze } from '../../../src/formats/values/squeeze.ts';
import { readsAs, refuses, saysNothing } from './reads-as.ts';

describe('a raster in a cell', () => {
  readsAs(readRaster, [
    ['4096x2160', { width: 4096, height: 2160 }],
    ['4096 × 2160', { width: 4096, height: 2160 }],
    ['4096 X 2160 px', { width: 4096, height: 2160 }],
    ['4096*2160', { width: 4096, height: 2160 }],
    ['1920 by 1080', { width: 1920, height: 1080 }],
  ]);
  saysNothing(readRaster, ['', '--', '0x0']);
  // Names stand for several rasters.
  refuses(readRaster, ['4K', 'UHD', '4096', '4096x0', '4096x65535', '2.39:1']);

  it('reads back every raster it could have written', () => {
    const side = fc.integer({ min: 16, max: 65_534 });
    fc.assert(fc.property(side, side, (width, height) => {
      expect(readRaster(`${width}x${height}`)).toEqual({ kind: 'value', value: { width, height } });
    }));
  });
});

describe('a squeeze in a cell', () => {
  readsAs(readSqueeze, [['2x', 2], ['x2', 2], ['1.8', 1.8], ['1,33x', 1.33], ['2:1', 2], ['3/2', 1.5], ['1:1', 1], ['200%', 2], ['100%', 1], ['100', 1, '%'], ['1.000', 1], ['spherical', 1]]);
  saysNothing(readSqueeze, ['', '0', '--']);
  refuses(readSqueeze, ['100', 'anamorphic', '2:0', '-2', '9x']);
});

describe('a tilt in a cell', () => {
  readsAs(readTilt, [['-3.5°', -3.5], ['−3.5', -3.5], ['3,5', 3.5], ['+3.5 deg', 3.5], ['2° up', 2], ['2 down', -2], ['5° dn', -5], [`3°30'`, 3.5], [`-3° 30'`, -3.5], ['level', 0], ['0', 0], ['-0.0', 0], ['-0.100', -0.1], ['0 down', 0]]);
  // One camera's tilt sensor writes 409.5 when it is out of range.
  saysNothing(readTilt, ['', '--', '409.500', '-409.5', '409.5°']);
  refuses(readTilt, ['181', '-2° up', 'up', 'a bit', '3°70\'']);
});

describe('a roll angle in a cell', () => {
  readsAs(readAngle, [['-0.1', -0.1], ['90°', 90]]);
  saysNothing(readAngle, ['409.500']);
  refuses(readAngle, ['2° up', '200']);
});

describe('a pan in a cell', () => {
  readsAs(readPan, [['-725.25', -725.25], ['370°', 370]]);
  refuses(readPan, ['left', '99999']);
});
