import { describe, expect, it } from 'vitest';
import { formatTimecode } from '../../../src/core/timecode/timecode.ts';
import { sourceOf } from '../../../src/formats/media/byte-source.ts';
import { readExr } from '../../../src/formats/media/exr.ts';
import type { MediaFacts } from '../../../src/formats/media/media-facts.ts';
import { bytes, countingSource, fromHex, le32, patched, zeros } from './build.ts';
import { attribute, exr, exrFloat, exrInt, exrRational, exrText, exrTimecode, multiPartExr } from './build-picture.ts';

async function read(...attributes: readonly Uint8Array[]): Promise<MediaFacts> {
  return readExr(sourceOf(exr(attributes)));
}

/** Value and place of each value found for a field. */
function stated(facts: MediaFacts, field: string): readonly unknown[] {
  return facts.values.filter((value) => value.field === field).map(({ value }) => value);
}

describe('standard attributes of an OpenEXR picture', () => {
  // Names, types and units: "Standard Optional Attributes" of the OpenEXR documentation (ImfStandardAttributes.h).
  it('give lens, exposure and camera in their documented units', async () => {
    const facts = await read(
      exrText('lensMake', 'Examplar'), exrText('lensModel', 'Prime 40'), exrText('lensSerialNumber', 'L-77'), exrFloat('nominalFocalLength', 40), exrFloat('focus', 2.5), exrFloat('tStop', 2.9), exrFloat('aperture', 2.8),
      exrFloat('shutterAngle', 172.8), exrFloat('expTime', 0.02), exrFloat('isoSpeed', 800), exrFloat('cameraCCTSetting', 5600), exrFloat('cameraTintSetting', 0),
      exrText('cameraMake', 'Examplar'), exrText('cameraModel', 'Examplar X1'), exrText('cameraSerialNumber', '0042'), exrText('cameraLabel', 'B camera'), exrText('reelName', 'B041'), exrText('capDate', '2026:11:25 18:15:00'),
    );
    const expected: Readonly<Record<string, readonly unknown[]>> = {
      lens: ['Examplar Prime 40'], lensSerial: ['L-77'], focalLength: [40], focusDistance: [2.5], stop: [{ kind: 'T', number: 2.9 }, { kind: 'f', number: 2.8 }],
      shutter: [{ kind: 'angle', degrees: 172.8 }, { kind: 'time', seconds: 0.02 }], ei: [800], whiteBalance: [5600], tint: [0],
      cameraModel: ['Examplar X1'], cameraSerial: ['0042'], camera: ['B'], reel: ['B041'], date: ['2026-11-25'],
    };
    for (const [field, values] of Object.entries(expected)) expect([field, stated(facts, field)]).toEqual([field, values]);
    expect(facts.values.find(({ field }) => field === 'stop')?.place).toBe('EXR attribute tStop');
    expect(facts.problems).toEqual([]);
  });

  it('give rates as exact fractions, and none when absent', async () => {
    expect(await read(exrRational('framesPerSecond', 24_000, 1001), exrRational('captureRate', 48, 1))).toMatchObject({ rate: { num: 24_000, den: 1001 }, sensorRate: { num: 48, den: 1 } });
    expect((await read()).rate).toBeUndefined();
    expect((await read(exrRational('framesPerSecond', 24, 0))).rate).toBeUndefined();
  });

  it('give the displayed size even where the picture holds less', async () => {
    const smaller = bytes(le32(4), le32(2), le32(11), le32(5));
    const picture = exr();
    const at = bytes(picture).findIndex((_, index) => picture.subarray(index, index + 10).every((byte, offset) => byte === 'dataWindow'.charCodeAt(offset)));
    expect((await readExr(sourceOf(patched(picture, at + 'dataWindow'.length + 1 + 'box2i'.length + 1 + 4, smaller)))).raster).toEqual({ width: 16, height: 8 });
  });

  it('of zero are unset, of nonsense a problem, and of infinity a focus', async () => {
    const facts = await read(exrFloat('tStop', 0), exrFloat('focus', Infinity), exrFloat('isoSpeed', -1), exrFloat('shutterAngle', Number.NaN));
    expect(stated(facts, 'stop')).toEqual([]);
    expect(stated(facts, 'focusDistance')).toEqual([Infinity]);
    expect(facts.problems.map(({ place }) => place)).toEqual(['EXR attribute shutterAngle', 'EXR attribute isoSpeed']);
  });

  it('of another type than documented are a problem where a number is due', async () => {
    const facts = await read(exrText('focus', '2.5 m'));
    expect(stated(facts, 'focusDistance')).toEqual([]);
    expect(facts.problems.map(({ found }) => found)).toEqual(['2.5 m']);
  });

  it('that only their writer knows are kept as texts', async () => {
    const facts = await read(exrText('com/example/lensIris', 'T2.9'), exrInt('imageCounter', 1001), attribute('private', 'blob', zeros(40)));
    expect(facts.texts).toEqual([{ name: 'com/example/lensIris', text: 'T2.9', place: 'EXR attribute com/example/lensIris' }, { name: 'imageCounter', text: '1001', place: 'EXR attribute imageCounter' }]);
  });
});

describe('timecode of an OpenEXR picture', () => {
  // Packing: TV60 layout of ImfTimeCode.h; both words as exrstdattr 3.1 stored them.
  it('is HHMMSSFF in decimal digits with flags between', async () => {
    const facts = await read(exrTimecode(0x1402_3104), exrRational('framesPerSecond', 24, 1));
    expect(facts.timecode === undefined ? '' : formatTimecode(facts.timecode)).toBe('14:02:31:04');
    const flagged = await read(exrTimecode(0x9482_b184), exrRational('framesPerSecond', 24, 1));
    expect(flagged.timecode).toEqual(facts.timecode);
  });

  it('drops by bit 6', async () => {
    const facts = await read(exrTimecode(0x1011_1253), exrRational('framesPerSecond', 30_000, 1001));
    expect(facts.timecode?.format).toEqual({ base: 30, drop: true });
    expect(stated(facts, 'tcIn')).toEqual(['10:11:12;13']);
  });

  it('is a label without a frame number while the rate is not known', async () => {
    const facts = await read(exrTimecode(0x1402_3104));
    expect(stated(facts, 'tcIn')).toEqual(['14:02:31:04']);
    expect(facts.timecode).toBeUndefined();
  });

  it('above 30 frames a second is a label only: it may stand for two pictures', async () => {
    const facts = await read(exrTimecode(0x1000_0012), exrRational('framesPerSecond', 50, 1));
    expect(stated(facts, 'tcIn')).toEqual(['10:00:00:12']);
    expect(facts.timecode).toBeUndefined();
  });

  it.each([[0x3568_7900, 'a field out of range'], [0x1000_000a, 'a digit above 9']])('of %i is none: %s', async (word) => {
    const facts = await read(exrTimecode(word));
    expect(stated(facts, 'tcIn')).toEqual([]);
    expect(facts.problems.map(({ place }) => place)).toEqual(['EXR attribute timeCode']);
  });

  it('that does not exist in drop frame is a problem', async () => {
    const facts = await read(exrTimecode(0x1001_0040), exrRational('framesPerSecond', 30_000, 1001));
    expect(facts.timecode).toBeUndefined();
    expect(facts.problems.map(({ found }) => found)).toEqual(['timecode 10:01:00;00']);
  });

  it('of zero is unset', async () => {
    const facts = await read(exrTimecode(0));
    expect([stated(facts, 'tcIn'), facts.problems]).toEqual([[], []]);
  });
});

describe('several parts', () => {
  it('read as one, the first part first', async () => {
    const facts = await readExr(sourceOf(multiPartExr([[exrTimecode(0x0100_0000), exrFloat('tStop', 2.8)], [exrFloat('tStop', 4), exrText('reelName', 'A003')]])));
    expect(stated(facts, 'tcIn')).toEqual(['01:00:00:00']);
    expect(stated(facts, 'stop')).toEqual([{ kind: 'T', number: 2.8 }]);
    expect(facts).toMatchObject({ reel: 'A003', completeness: { condition: 'whole' } });
  });
});

describe('whether an OpenEXR picture is all there', () => {
  it('holds for a whole one and fails at every length it can be cut to', async () => {
    for (const whole of [exr([exrFloat('tStop', 2.8)]), multiPartExr([[], []])]) {
      expect((await readExr(sourceOf(whole))).completeness).toMatchObject({ condition: 'whole', complete: true });
      for (let length = 1; length < whole.length; length++) expect([length, (await readExr(sourceOf(whole.subarray(0, length)))).completeness.complete]).toEqual([length, false]);
    }
  });

  it('fails when some of it was never written', async () => {
    const whole = exr();
    const table = whole.length - 8 * (8 + 32) - 8;
    expect((await readExr(sourceOf(patched(whole, table, zeros(8))))).completeness).toMatchObject({ condition: 'truncated', why: 'some of its picture was never written' });
  });

  it('is unreadable for other files, and for a header with a length beyond the file', async () => {
    expect((await readExr(sourceOf(bytes('renamed text')))).completeness.condition).toBe('unreadable');
    const beyond = bytes(fromHex('762f3101'), le32(2), 'preview', 0, 'preview', 0, le32(0x7fff_ffff), zeros(100));
    expect((await readExr(sourceOf(beyond))).completeness.condition).toBe('unreadable');
  });
});

describe('how much is read', () => {
  it('is one or two looks, however big a preview stands in the header', async () => {
    const source = countingSource(exr([attribute('preview', 'preview', zeros(1_000_000)), exrFloat('tStop', 2.8)]));
    expect(stated(await readExr(source), 'stop')).toHaveLength(1);
    expect(source.asked.bytes).toBeLessThan(100_000);
  });
});
