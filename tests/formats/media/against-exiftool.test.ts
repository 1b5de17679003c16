import { execFileSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { ExifTool, exiftoolPath } from 'exiftool-vendored';
import { afterAll, describe, expect, it } from 'vitest';
import { sourceOf } from '../../../src/formats/media/byte-source.ts';
import { parseExiftoolTags } from '../../../src/formats/media/exiftool-tags.ts';
import type { MediaFacts } from '../../../src/formats/media/media-facts.ts';
import { readMedia } from '../../../src/formats/media/media-kind.ts';
import { makeMovie, makeSequence, programPath, temporaryFolder } from '../../support/make-media.ts';
import { bytes, fromHex, le32 } from './build.ts';
import { dpx, exr, exrFloat, exrRational, exrText, exrTimecode, tiff, tiffText } from './build-picture.ts';

const exiftool = new ExifTool({ maxProcs: 1 });
afterAll(() => exiftool.end());

async function tagsOf(path: string): Promise<Readonly<Record<string, unknown>>> {
  return { ...(await exiftool.readRaw(path, { readArgs: ['-fast', '-n', '-G1'] })) };
}

async function factsOf(path: string): Promise<MediaFacts | undefined> {
  return readMedia(sourceOf(readFileSync(path)), path);
}

/** Writes a built file and says what ExifTool makes of it. */
async function written(name: string, content: Uint8Array): Promise<{ tags: Readonly<Record<string, unknown>>; facts: MediaFacts | undefined }> {
  const path = join(temporaryFolder(), name);
  writeFileSync(path, content);
  return { tags: await tagsOf(path), facts: await factsOf(path) };
}

describe('pictures made by FFmpeg', () => {
  it.each(['dpx', 'exr', 'png', 'tif'] as const)('have the raster ExifTool reads, and are whole: %s', async (extension) => {
    const encoders = execFileSync(await programPath('ffmpeg'), ['-v', 'error', '-encoders'], { encoding: 'utf8' });
    // FFmpeg of 2018, which npm brings, cannot write OpenEXR.
    if (extension === 'exr' && !/ exr /u.test(encoders)) return;
    const folder = join(temporaryFolder(), 'pictures');
    mkdirSync(folder);
    await makeSequence(folder, 'p', extension, 2);
    for (const name of readdirSync(folder)) {
      const tags = await tagsOf(join(folder, name));
      const raster = { width: Object.entries(tags).find(([key]) => key.endsWith(':ImageWidth'))?.[1], height: Object.entries(tags).find(([key]) => key.endsWith(':ImageHeight'))?.[1] };
      expect(await factsOf(join(folder, name))).toMatchObject({ raster, completeness: { condition: 'whole', complete: true }, problems: [] });
    }
  });
});

describe('built pictures', () => {
  it('of OpenEXR hold what ExifTool reads of them', async () => {
    const { tags, facts } = await written('p.exr', exr([exrTimecode(0x1402_3104), exrRational('framesPerSecond', 24_000, 1001), exrFloat('expTime', 0.02), exrFloat('aperture', 2.8), exrFloat('focus', 2.5), exrFloat('isoSpeed', 800), exrText('owner', 'nobody')]));
    expect(tags).toMatchObject({ 'OpenEXR:Aperture': expect.closeTo(2.8, 5), 'OpenEXR:FocusDistance': 2.5, 'OpenEXR:ISO': 800, 'OpenEXR:Owner': 'nobody' });
    expect(facts?.values.filter(({ field }) => ['stop', 'focusDistance', 'ei'].includes(field)).map(({ value }) => value)).toEqual([2.5, { kind: 'f', number: 2.8 }, 800]);
    expect(facts?.rate).toEqual({ num: 24_000, den: 1001 });
  });

  it('of DPX hold what ExifTool reads of them', async () => {
    for (const little of [false, true]) {
      const { tags, facts } = await written('p.dpx', dpx({ little, words: { 1920: 0x1011_1213 }, floats: { 1724: 24, 1728: 172.8, 1940: 24 }, texts: { 1556: 'ExampleCam', 1764: '27B take 3' } }));
      expect(tags).toMatchObject({ 'File:ImageWidth': 16, 'File:ImageHeight': 8, 'File:OriginalFrameRate': 24, 'File:FrameRate': 24, 'File:SlateInformation': '27B take 3', 'File:InputDeviceName': 'ExampleCam', 'File:TimeCode': 0x1011_1213 });
      expect(Number(tags['File:ShutterAngle'])).toBeCloseTo(172.8, 4);
      expect(facts).toMatchObject({ raster: { width: 16, height: 8 }, rate: { num: 24, den: 1 } });
      expect(facts?.values.filter(({ field }) => ['slate', 'tcIn', 'shutter'].includes(field)).map(({ value }) => value)).toEqual(['10:11:12:13', { kind: 'angle', degrees: 172.8 }, '27B take 3']);
    }
  });

  it('of TIFF hold what ExifTool reads of them', async () => {
    const entries = [tiffText(271, 'Examplar'), tiffText(272, 'X1'), tiffText(306, '2026:11:25 18:15:00'), { tag: 51_043, type: 1, count: 8, value: fromHex('0431231400000000') }, { tag: 51_044, type: 10, count: 1, value: bytes(le32(24), le32(1)) }, tiffText(51_081, 'A041')];
    const { tags, facts } = await written('p.tif', tiff({ entries }));
    expect(tags).toMatchObject({ 'IFD0:ImageWidth': 16, 'IFD0:ImageHeight': 8, 'IFD0:Model': 'X1', 'IFD0:ReelName': 'A041', 'IFD0:FrameRate': 24, 'IFD0:TimeCodes': '04.31.23.14.00.00.00.00' });
    expect(facts?.values.find(({ field }) => field === 'tcIn')?.value).toBe('14:23:31:04');
    expect(facts?.reel).toBe('A041');
  });
});

describe('metadata ExifTool wrote into a movie', () => {
  it('is announced by the header reader and read from the tags', async () => {
    const path = join(temporaryFolder(), 'plate.mov');
    await makeMovie(path, { frames: 2, timecode: '01:00:00:00' });
    expect(await factsOf(path)).toMatchObject({ moreMetadata: false });
    const tags = ['-Keys:Model=ExampleCam X1', '-XMP-xmpDM:TapeName=A003', '-XMP-xmpDM:Scene=27', '-XMP-xmpDM:TakeNumber=3', '-XMP-exif:FocalLength=40', '-XMP-exif:FNumber=2.8', '-XMP-exif:SubjectDistance=3.2', '-XMP-aux:Lens=Example Prime 40'];
    execFileSync(await exiftoolPath(), ['-q', '-overwrite_original', ...tags, path]);
    const facts = await factsOf(path);
    expect(facts).toMatchObject({ moreMetadata: true, frames: 2, completeness: { condition: 'whole' } });
    expect(facts?.values).toContainEqual(expect.objectContaining({ field: 'cameraModel', value: 'ExampleCam X1' }));
    const values = parseExiftoolTags(await tagsOf(path));
    expect(Object.fromEntries(values.map(({ field, value }) => [field, value]))).toEqual({
      lens: 'Example Prime 40', focalLength: 40, focusDistance: 3.2, stop: { kind: 'f', number: 2.8 }, cameraModel: 'ExampleCam X1', scene: '27', take: '3', reel: 'A003',
    });
  });
});
