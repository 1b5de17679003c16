import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDistance, readFocusDistance, readPosition } from '../../../src/formats/values/distance.ts';
import { readFocalLength } from '../../../src/formats/values/focal-length.ts';
import { readsAs, readsByAssumption, refuses, saysNothing } from './reads-as.ts';

describe('a focal length in a cell', () => {
  readsAs(readFocalLength, [
    ['35mm', 35],
    ['35 mm', 35],
    ['35 MM.', 35],
    ['50', 50],
    ['40.000', 40],
    ['17,5mm', 17.5],
    ['5 cm', 50],
    // One inch is 25.4 mm by definition (international yard and pound agreement, 1959).
    ['2"', 50.8],
    ['35', 35, 'mm'],
    ['5', 50, 'cm'],
    ['35mm', 35, 'cm'],
  ]);
  saysNothing(readFocalLength, ['', '-', '--', 'n/a', 'unknown', '?', 'tbd', '0', '0mm', '65535/65535']);
  refuses(readFocalLength, ['24-70', '24-70mm', '24 to 70', '-35', '-35mm', 'wide', 'inf', '0.2mm', '9000', '35mm T1.5']);

  it('reads back every focal length it could have written', () => {
    fc.assert(fc.property(fc.integer({ min: 10, max: 20_000 }), (tenths) => {
      expect(readFocalLength(`${tenths / 10}mm`)).toEqual({ kind: 'value', value: tenths / 10 });
    }));
  });
});

describe('a focus distance in a cell', () => {
  // One foot is 0.3048 m by definition (international yard and pound agreement, 1959).
  readsAs(readFocusDistance, [
    [`12'6"`, 3.81],
    [`12' 6"`, 3.81],
    ['12’6”', 3.81],
    ['12′ 6″', 3.81],
    [`12'6''`, 3.81],
    [`12'-6"`, 3.81],
    [`12'6`, 3.81],
    [`12' 6 1/2"`, 3.8227],
    [`12' 6½"`, 3.8227],
    [`12' 6.5"`, 3.8227],
    ['12 ft 6 in', 3.81],
    ['12ft 6', 3.81],
    [`12'`, 3.6576],
    [`5 1/2'`, 1.6764],
    [`6"`, 0.1524],
    [`6 1/2"`, 0.1651],
    ['5.83 ft', 1.776984],
    ['5,83ft', 1.776984],
    ['3.81 m', 3.81],
    ['3,81m', 3.81],
    ['3m81', 3.81],
    ['381cm', 3.81],
    ['410mm', 0.41],
    ['991 mm', 0.991],
    ['4.812 meter', 4.812],
    ['inf', Infinity],
    ['INF.', Infinity],
    ['∞', Infinity],
    ['5.83', 1.776984, 'ft'],
    ['410', 0.41, 'mm'],
    ['142', 1.42, 'cm'],
    [`12'6"`, 3.81, 'cm'],
    ['3.81 m', 3.81, 'ft'],
  ]);
  readsByAssumption(readFocusDistance, [['1.42', 1.42], ['3', 3], ['3,5', 3.5]]);
  saysNothing(readFocusDistance, ['', '--', '0', '-0.001', '-0.001 m', 'n.a.', '0 m']);
  refuses(readFocusDistance, ['142', '45', '-2 m', '-2', `12'13"`, '20 km', 'close', `12'6"3`, '1/0 m', '99999 m']);
});

describe('a distance to subject or background', () => {
  readsAs(readDistance, [[`9' 2"`, 2.794], ['11.4 m', 11.4]]);
  // A camera focuses at infinity; nothing stands there.
  refuses(readDistance, ['inf', '-1 m', '0 m']);
});

describe('a camera height', () => {
  readsAs(readPosition, [['1.42 m', 1.42], ['142', 1.42, 'cm'], [`4'8"`, 1.4224], ['0', 0], ['0 cm', 0], ['-20 cm', -0.2], ['−0.2 m', -0.2]]);
  readsByAssumption(readPosition, [['1.42', 1.42], ['-0.5', -0.5]]);
  refuses(readPosition, ['142', 'eye level', 'inf', '2000 m']);
});
