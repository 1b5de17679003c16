import { describe, expect, it } from 'vitest';
import { folderOf, stemOfSidecar } from '../../../src/formats/sidecars/stem.ts';

describe('the clip a sidecar lies beside', () => {
  it.each([
    ['day/A003C012_261125_R7QK.xml', 'A003C012_261125_R7QK'],
    ['A003C012_261125_R7QK.XML', 'A003C012_261125_R7QK'],
    ['B001C001_261125_R1ZA.mov.csv', 'B001C001_261125_R1ZA'],
    ['x/A003C012_261125AGM01.xml', 'A003C012_261125AG'],
    ['C0007M01.XML', 'C0007'],
    ['B002_C014_1125QK_001.static.csv', 'B002_C014_1125QK_001'],
    ['B002_C014_1125QK_001.frames.csv', 'B002_C014_1125QK_001'],
    ['20261125_Lens_Static.csv', '20261125_Lens'],
    ['20261125_Lens_Frames.csv', '20261125_Lens'],
    // A name that only ends like a sidecar number is a name.
    ['FARM01.xml', 'FARM01'],
    ['plate.0101.xml', 'plate.0101'],
    ['.xml', '.xml'],
    ['no-ending', 'no-ending'],
  ])('%s: %s', (file, stem) => {
    expect(stemOfSidecar(file)).toBe(stem);
  });

  it('lies in a folder, or in the root', () => {
    expect([folderOf('a/b/c.xml'), folderOf('c.xml')]).toEqual(['a/b', '']);
  });
});
