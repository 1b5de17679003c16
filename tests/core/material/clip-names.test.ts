import { describe, expect, it } from 'vitest';
import { cameraLetter, clipNumberName, folderOf, parseCameraName, rollName, rollNumber, stemOf } from '../../../src/core/material/clip-names.ts';

// Camera-style clip names: common practice of several makers, no source.

describe('names of clips', () => {
  it.each([
    ['A003C012_261125_R7QK', 'A', 3, 12, 'A003C012'],
    ['a003c012', 'A', 3, 12, 'a003c012'],
    ['A001_C066_0303LZ_001', 'A', 1, 66, 'A001_C066'],
    ['B002_11251430_C007', 'B', 2, 7, 'B002_11251430_C007'],
  ])('take %s apart', (text, camera, roll, clip, short) => {
    expect(parseCameraName(text)).toEqual({ camera, roll, clip, short });
  });

  it.each(['27B-3_lead', 'C0007', 'IMG_0001', 'A003', ''])('find no camera name in %j', (text) => {
    expect(parseCameraName(text)).toBeUndefined();
  });

  it.each([
    ['day01/A003C012.mov', 'A003C012', 'day01'],
    ['clip', 'clip', ''],
    ['seq/27B-3_lead.####.exr', '27B-3_lead', 'seq'],
    ['seq/27B-3_lead_#######.dpx', '27B-3_lead', 'seq'],
    ['A003C012/####.exr', 'A003C012', 'A003C012'],
    ['a.b/take.one.mov', 'take.one', 'a.b'],
  ])('base name and folder of %s', (file, stem, folder) => {
    expect([stemOf(file), folderOf(file)]).toEqual([stem, folder]);
  });

  it('write camera letters, rolls and clip numbers in one way', () => {
    expect(['a', 'A cam', 'Camera A', 'CAM_A', 'A-Cam'].map(cameraLetter)).toEqual(['A', 'A', 'A', 'A', 'A']);
    expect(cameraLetter('Crane')).toBe('CRANE');
    expect([rollName('3', 'A'), rollName('a003', 'A'), rollName('003', undefined)]).toEqual(['A003', 'A003', '003']);
    expect(['12', 'C012', 'c12', 'A003C012', 'A003C012_261125_R7QK', '066'].map(clipNumberName)).toEqual(['C012', 'C012', 'C012', 'C012', 'C012', 'C066']);
    expect(['A003', '003', '3', 'A003R7QK'].map(rollNumber)).toEqual([3, 3, 3, 3]);
  });
});
