import { describe, expect, it } from 'vitest';
import { formatTimecode } from '../../../src/core/timecode/timecode.ts';
import { sourceOf } from '../../../src/formats/media/byte-source.ts';
import { readDpx } from '../../../src/formats/media/dpx.ts';
import type { MediaFacts } from '../../../src/formats/media/media-facts.ts';
import { bytes, countingSource, zeros } from './build.ts';
import type { DpxToBuild } from './build-picture.ts';
import { dpx } from './build-picture.ts';

async function read(wish: DpxToBuild = {}): Promise<MediaFacts> {
  return readDpx(sourceOf(dpx(wish)));
}

function stated(facts: MediaFacts, field: string): readonly unknown[] {
  return facts.values.filter((value) => value.field === field).map(({ value }) => value);
}

describe.each([false, true])('a DPX picture, least significant byte first: %s', (little) => {
  // Offsets: SMPTE ST 268-1.
  it('gives timecode, rate, raster, shutter, slate and camera', async () => {
    const facts = await read({ little, words: { 1920: 0x1011_1213 }, floats: { 1724: 24, 1728: 172.8 }, texts: { 1764: '12A T3', 1556: 'ExampleCam X1', 1588: '0042', 1532: '2026:11:25:18:15:00' } });
    expect(facts).toMatchObject({ container: 'dpx', rate: { num: 24, den: 1 }, raster: { width: 16, height: 8 }, codec: 'DPX 10 bit', completeness: { condition: 'whole', complete: true } });
    expect(facts.timecode === undefined ? '' : formatTimecode(facts.timecode)).toBe('10:11:12:13');
    expect(stated(facts, 'shutter')).toEqual([{ kind: 'angle', degrees: 172.8 }]);
    expect(['slate', 'cameraModel', 'cameraSerial', 'date'].map((field) => stated(facts, field))).toEqual([['12A T3'], ['ExampleCam X1'], ['0042'], ['2026-11-25']]);
    expect(facts.values.find(({ field }) => field === 'tcIn')?.place).toBe('DPX byte 1920');
  });

  it('takes a rate of 23.97599983 for 24000/1001', async () => {
    expect((await read({ little, floats: { 1940: 23.976 } })).rate).toEqual({ num: 24_000, den: 1001 });
  });

  it('states both rates when film and television header differ', async () => {
    const facts = await read({ little, floats: { 1724: 24, 1940: 23.976 } });
    expect(facts.values.filter(({ field }) => field === 'fps').map(({ place }) => place)).toEqual(['DPX byte 1724', 'DPX byte 1940']);
    expect(facts.rate).toEqual({ num: 24, den: 1 });
  });

  it('has nothing to say in fields that are undefined or zero', async () => {
    expect((await read({ little })).values.map(({ field }) => field)).toEqual(['raster', 'codec']);
    const unset = await read({ little, words: { 1920: 0, 1724: 0, 1940: 0, 1728: 0 } });
    expect(unset.values.map(({ field }) => field)).toEqual(['raster', 'codec']);
  });

  it('has no film or television header when its picture begins before them', async () => {
    // FFmpeg writes them so: what stands at byte 1920 is picture.
    const facts = await read({ little, offset: 1664, size: [64, 36] });
    expect(facts.values.map(({ field }) => field)).toEqual(['raster', 'codec']);
    expect(facts.completeness.condition).toBe('whole');
  });

  it('drops where flagged, and counts on above 39 where no drop frame exists', async () => {
    const drop = await read({ little, words: { 1920: 0x0100_0042 }, floats: { 1940: 29.97 } });
    expect(stated(drop, 'tcIn')).toEqual(['01:00:00;02']);
    const fast = await read({ little, words: { 1920: 0x0100_0045 }, floats: { 1940: 60 } });
    expect(fast.timecode).toEqual({ frame: 216_045, format: { base: 60, drop: false } });
  });

  it('is believed in no word with digits above 9', async () => {
    const facts = await read({ little, words: { 1920: 0x1f11_1213 } });
    expect(stated(facts, 'tcIn')).toEqual([]);
    expect(facts.problems.map(({ place }) => place)).toEqual(['DPX byte 1920']);
  });

  it('is known to be cut off by its pixels, at every length', async () => {
    const whole = dpx({ little });
    for (let length = 1; length < whole.length; length++) expect([length, (await readDpx(sourceOf(whole.subarray(0, length)))).completeness.complete]).toEqual([length, false]);
  });

  it('is whole by its pixels when the size it states is wrong', async () => {
    // ImageMagick 6.9 states too many bytes for grey pictures.
    expect((await read({ little, statedSize: 99_999 })).completeness.condition).toBe('whole');
  });
});

describe('other files named .dpx', () => {
  it('are unreadable or empty', async () => {
    expect((await readDpx(sourceOf(bytes('renamed text')))).completeness.condition).toBe('unreadable');
    expect((await readDpx(sourceOf(zeros(0)))).completeness.condition).toBe('empty');
  });
});

describe('how much is read', () => {
  it('is one look', async () => {
    const source = countingSource(dpx({ size: [1920, 1080] }));
    await readDpx(source);
    expect(source.asked.reads).toBe(1);
  });
});
