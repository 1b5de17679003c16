import { describe, expect, it } from 'vitest';
import { nameStatements, parseCameraName } from '../../../src/formats/media/camera-name.ts';

describe('camera-style clip names', () => {
  // Common practice of digital cinema cameras, no source.
  it.each([
    ['A003C012_261125_R7QK.mov', { camera: 'A', roll: 'A003', clip: 'C012', date: '2026-11-25', rest: 'R7QK' }],
    ['A003_C012_1125AB_001.r3d', { camera: 'A', roll: 'A003', clip: 'C012', date: '--11-25', part: 1, rest: 'AB' }],
    ['D001C005_261125AG.mxf', { camera: 'D', roll: 'D001', clip: 'C005', date: '2026-11-25', rest: 'AG' }],
    ['A002_11250930_C014.braw', { camera: 'A', roll: 'A002', clip: 'C014', date: '--11-25', rest: '' }],
    ['A_0008C002_260722_232311_c1GWK.mxf', { camera: 'A', roll: 'A0008', clip: 'C002', date: '2026-07-22', rest: '232311_c1GWK' }],
    ['day03/A041C003_260302_R1AB.#######.exr', { camera: 'A', roll: 'A041', clip: 'C003', date: '2026-03-02', rest: 'R1AB' }],
    ['b003c012.mov', { camera: 'B', roll: 'B003', clip: 'C012', rest: '' }],
    ['A003C012_261125_R7QK_27B-3 swapped.mov', { camera: 'A', roll: 'A003', clip: 'C012', date: '2026-11-25', rest: 'R7QK_27B-3 swapped' }],
    ['VFX_A003C012_swapped.mov', { camera: 'A', roll: 'A003', clip: 'C012', rest: 'swapped' }],
    ['A003C012_261399_R7QK.mov', { camera: 'A', roll: 'A003', clip: 'C012', rest: '261399_R7QK' }],
  ])('such as %s come apart', (name, expected) => {
    expect(parseCameraName(name)).toEqual(expected);
  });

  it.each(['plate.mov', 'C0007.mp4', '27B-3.mov', 'A003.mov', 'XA003C012Y.mov'])('are not %s', (name) => {
    expect(parseCameraName(name)).toBeUndefined();
  });

  it('state camera, roll and clip as the file name says, and a date only with its year', () => {
    const source = { kind: 'name', file: 'day03/A003C012_261125_R7QK.mov', place: 'file name' };
    expect(nameStatements('day03/A003C012_261125_R7QK.mov')).toEqual([
      { field: 'camera', value: 'A', raw: 'A', source },
      { field: 'roll', value: 'A003', raw: 'A003', source },
      { field: 'clip', value: 'C012', raw: 'C012', source },
      { field: 'date', value: '2026-11-25', raw: '2026-11-25', source },
    ]);
    expect(nameStatements('A002_11250930_C014.braw').map(({ field }) => field)).toEqual(['camera', 'roll', 'clip']);
    expect(nameStatements('plate.mov')).toEqual([]);
  });
});
