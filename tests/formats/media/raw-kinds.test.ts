import { describe, expect, it } from 'vitest';
import { sourceOf } from '../../../src/formats/media/byte-source.ts';
import type { MediaFacts } from '../../../src/formats/media/media-facts.ts';
import { mediaKindOf, readMedia } from '../../../src/formats/media/media-kind.ts';
import { bytes, fromHex, le32, patched, zeros } from './build.ts';
import { movie } from './build-movie.ts';
import { tiff, tiffText } from './build-picture.ts';

async function read(name: string, content: Uint8Array): Promise<MediaFacts | undefined> {
  return readMedia(sourceOf(content), name);
}

describe('what kind of media a name promises', () => {
  it.each([
    ['A.MOV', 'movie'], ['a.mp4', 'movie'], ['a.mxf', 'movie'], ['p.1001.exr', 'picture'], ['p.tif', 'picture'], ['a.r3d', 'raw-movie'], ['p.0001.ari', 'raw-picture'], ['p.dng', 'raw-picture'],
    ['a.txt', undefined], ['a', undefined], ['a.constructor', undefined],
  ])('%s: %s', (name, kind) => {
    expect(mediaKindOf(name)).toBe(kind);
  });
});

describe('header-only raw', () => {
  it('built as a movie is read as one, and named for what it is', async () => {
    const facts = await read('A002_11250930_C014.braw', movie({ codec: 'brxq', timing: [[48, 1001]], timecode: { frame: 86_400, base: 24, timescale: 24_000, frameTicks: 1001 } }));
    expect(facts).toMatchObject({ container: 'raw', codec: 'Blackmagic RAW', frames: 48, rate: { num: 24_000, den: 1001 }, timecode: { frame: 86_400 }, moreMetadata: true, completeness: { condition: 'whole' } });
    expect(facts?.values.filter(({ field }) => field === 'codec')).toHaveLength(1);
  });

  it('built as TIFF is read as that', async () => {
    const facts = await read('p.0001.dng', tiff({ entries: [tiffText(272, 'ExampleCam X1')] }));
    expect(facts).toMatchObject({ container: 'raw', codec: 'CinemaDNG', raster: { width: 16, height: 8 } });
  });

  it('gives the raster and model of published fields', async () => {
    // Fields as LibRaw reads them: width at 20, height at 24, model at 668.
    const header = patched(patched(bytes('ARRI', zeros(4092)), 20, bytes(le32(2880), le32(1620))), 668, bytes('Example'));
    const facts = await read('p.0001.ari', header);
    expect(facts).toMatchObject({ raster: { width: 2880, height: 1620 }, codec: 'ARRIRAW', completeness: { condition: 'unverified', complete: null } });
    expect(facts?.values).toContainEqual({ field: 'cameraModel', value: 'Example', raw: 'Example', place: 'raw header, byte 668' });
  });

  it('is taken for what it says only with the right beginning', async () => {
    const start = bytes(fromHex('00000200'), 'RED2', zeros(504));
    expect((await read('A003_C012_1125AB_001.R3D', start))?.completeness).toMatchObject({ condition: 'unverified', complete: null });
    for (const name of ['a.r3d', 'a.ari', 'a.cine', 'a.dng', 'a.braw']) expect([name, (await read(name, bytes('renamed text, long enough')))?.completeness.condition]).toEqual([name, 'unreadable']);
    for (const name of ['a.r3d', 'a.arx', 'a.dng']) expect([name, (await read(name, zeros(0)))?.completeness.condition]).toEqual([name, 'empty']);
  });

  it('of a kind nobody has published is listed and no more', async () => {
    expect(await read('p.0001.arx', zeros(100))).toMatchObject({ codec: 'ARRIRAW HDE', completeness: { condition: 'unverified', complete: null } });
  });
});
