import { describe, expect, it } from 'vitest';
import { formatTimecode } from '../../../src/core/timecode/timecode.ts';
import { sourceOf } from '../../../src/formats/media/byte-source.ts';
import type { MediaFacts } from '../../../src/formats/media/media-facts.ts';
import { readTiff } from '../../../src/formats/media/tiff.ts';
import { bytes, fromHex, le32, patched, zeros } from './build.ts';
import type { TiffToBuild } from './build-picture.ts';
import { tiff, tiffText } from './build-picture.ts';

async function read(wish: TiffToBuild = {}): Promise<MediaFacts> {
  return readTiff(sourceOf(tiff(wish)));
}

describe.each([
  ['II, 32 bit', true, false],
  ['MM, 32 bit', false, false],
  ['II, BigTIFF', true, true],
  ['MM, BigTIFF', false, true],
] as const)('a TIFF picture, %s', (_, little, big) => {
  it('gives raster, coding and the texts of its first directory', async () => {
    const entries = [tiffText(270, 'clean plate'), tiffText(271, 'Examplar'), tiffText(272, 'X1'), tiffText(306, '2026:11:25 18:15:00')];
    const facts = await read({ little, big, entries });
    expect(facts).toMatchObject({ container: 'tiff', raster: { width: 16, height: 8 }, codec: 'TIFF 8 bit uncompressed', completeness: { condition: 'whole', complete: true }, problems: [] });
    expect(facts.values).toContainEqual({ field: 'cameraModel', value: 'Examplar X1', raw: 'X1', place: 'TIFF tag Model' });
    expect(facts.values).toContainEqual({ field: 'date', value: '2026-11-25', raw: '2026:11:25 18:15:00', place: 'TIFF tag DateTime' });
    expect(facts.texts).toEqual([{ name: 'ImageDescription', text: 'clean plate', place: 'TIFF tag ImageDescription' }]);
  });

  it('is known to be cut off at every length', async () => {
    const whole = tiff({ little, big });
    for (let length = 1; length < whole.length - 8; length++) expect([length, (await readTiff(sourceOf(whole.subarray(0, length)))).completeness.complete]).toEqual([length, false]);
  });
});

describe('a TIFF picture', () => {
  it('is cut off when its strip reaches beyond the end', async () => {
    const whole = tiff();
    // The value of the StripByteCounts entry, the eighth of the directory.
    const beyond = patched(whole, 8 + 128 + 2 + 7 * 12 + 8, le32(129 + 1000));
    expect((await readTiff(sourceOf(beyond))).completeness.condition).toBe('truncated');
  });

  it('gives rate, timecode and reel by the tags of raw pictures built on TIFF', async () => {
    // TimeCodes holds frames, seconds, minutes, hours (as ExifTool 13.59 reads tag 0xC763).
    const entries = [
      { tag: 51_043, type: 1, count: 8, value: fromHex('04312314 00000000') },
      { tag: 51_044, type: 10, count: 1, value: bytes(le32(24_000), le32(1001)) },
      tiffText(51_081, 'A041'),
    ];
    const facts = await read({ entries });
    expect(facts).toMatchObject({ rate: { num: 24_000, den: 1001 }, reel: 'A041' });
    expect(facts.timecode === undefined ? '' : formatTimecode(facts.timecode)).toBe('14:23:31:04');
  });

  it('names metadata that it leaves alone', async () => {
    const facts = await read({ entries: [{ tag: 700, type: 1, count: 10, value: zeros(10) }, { tag: 34_665, type: 4, count: 1, value: le32(8) }] });
    expect(facts.notUnderstood).toEqual(['exif', 'xmp']);
  });

  it('is not what other files are', async () => {
    expect((await readTiff(sourceOf(bytes('renamed text')))).completeness.condition).toBe('unreadable');
    expect((await readTiff(sourceOf(zeros(0)))).completeness.condition).toBe('empty');
  });
});
