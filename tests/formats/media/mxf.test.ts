import { describe, expect, it } from 'vitest';
import { sourceOf } from '../../../src/formats/media/byte-source.ts';
import type { MediaFacts } from '../../../src/formats/media/media-facts.ts';
import { readMxf } from '../../../src/formats/media/mxf.ts';
import { be32, bytes, countingSource, fromHex, zeros } from './build.ts';
import type { MxfToBuild } from './build-mxf.ts';
import { comment, klv, metadataSet, mxf, openMxf } from './build-mxf.ts';

async function read(wish: MxfToBuild = {}): Promise<MediaFacts> {
  return readMxf(sourceOf(mxf(wish)));
}

function labels(facts: MediaFacts): readonly string[] {
  return facts.values.filter(({ field }) => field === 'tcIn').map(({ place, raw }) => `${place} ${raw}`);
}

/** 14:22:33:04 at 24 labels a second (ST 12-1 counting). */
const CLOCK = { start: 1_242_076, base: 24 };

describe('what an MXF file says', () => {
  it('is its rate, length, raster, coding and operational pattern', async () => {
    const facts = await read();
    expect(facts).toMatchObject({ container: 'mxf', rate: { num: 24_000, den: 1001 }, frames: 48, raster: { width: 1920, height: 1080 }, codec: 'DNxHD', moreMetadata: false });
    expect(facts.texts).toContainEqual({ name: 'operational pattern', text: 'OP1a', place: 'header partition' });
  });

  it('is OP-Atom where its label says so', async () => {
    const facts = await read({ pattern: '060e2b34 04010102 0d010201 10030000' });
    expect(facts.texts.map(({ text }) => text)).toContain('OP-Atom');
  });

  it.each([
    ['06 0e 2b 34 04 01 01 03 04 01 02 02 01 04 02 00', 'MPEG-2'],
    ['06 0e 2b 34 04 01 01 0a 04 01 02 02 01 32 00 00', 'H.264 intra'],
    ['06 0e 2b 34 04 01 01 07 04 01 02 02 03 01 01 00', 'JPEG 2000'],
    ['06 0e 2b 34 04 01 01 0d 04 01 02 02 03 06 04 00', 'ProRes 422 HQ'],
    ['06 0e 2b 34 04 01 01 0a 04 01 02 02 71 25 00 00', 'DNxHR'],
  ])('is its coding by label %s', async (coding, name) => {
    expect((await read({ coding })).codec).toBe(name);
  });

  it('is the coding its container implies when the coding label is not known', async () => {
    expect((await read({ coding: '06 0e 2b 34 04 01 01 01 0e 99 99 00 00 00 00 00' })).codec).toBe('DNxHD');
  });

  it('is the height of both fields when they are stored apart', async () => {
    expect((await read({ frameLayout: 1, size: [1920, 544, 540] })).raster).toEqual({ width: 1920, height: 1080 });
  });

  it('is its clip name and comments, as texts', async () => {
    const facts = await read({ clipName: 'A003C012_261125_R7QK', sets: [comment(900, 'Scene', '27B')] });
    expect(facts.texts).toContainEqual({ name: 'material package name', text: 'A003C012_261125_R7QK', place: 'material package' });
    expect(facts.texts).toContainEqual({ name: 'Scene', text: '27B', place: 'comment Scene' });
  });

  it('is both rates when the descriptor has another than the track', async () => {
    const facts = await read({ descriptorRate: [25, 1] });
    expect(facts.values.filter(({ field }) => field === 'fps').map(({ place }) => place)).toEqual(['material package, picture track', 'picture descriptor']);
  });

  it('is the length of its container when no track has one', async () => {
    expect((await read({ frames: 'unknown', containerDuration: 31 })).frames).toBe(31);
    expect((await read({ frames: 'unknown' })).frames).toBeUndefined();
  });

  it('is found behind a run-in', async () => {
    const facts = await read({ runIn: bytes('a run-in may hold anything but the key ', 0x06, 0x0e, zeros(300)), material: CLOCK });
    expect(facts.completeness.condition).toBe('whole');
    expect(facts.frames).toBe(48);
  });

  it('names private sets and items, so that another reader can be asked', async () => {
    const privateSet = klv('060e2b34 02530101 0e010203 04050600', zeros(8));
    const item = metadataSet('28', 901, [0x8001, be32(40)]);
    const facts = await read({ sets: [privateSet, item], primer: [[0x8001, '060e2b34 01010102 04200201 01040000'], [0x8002, '060e2b34 01010102 04010201 01040000']] });
    expect(facts.notUnderstood).toEqual(['item 0420020101040000', 'set 0e01020304050600']);
    expect(facts.moreMetadata).toBe(true);
  });
});

describe('timecode of an MXF file', () => {
  it('is that of the material package', async () => {
    const facts = await read({ material: CLOCK });
    expect(facts.timecode).toEqual({ frame: 1_242_076, format: { base: 24, drop: false } });
    expect(facts.timecodeRate).toEqual({ num: 24_000, den: 1001 });
    expect(labels(facts)).toEqual(['material package 14:22:33:04']);
  });

  it('drops where flagged, at a rate that can', async () => {
    const facts = await read({ rate: [30_000, 1001], material: { start: 1800, base: 30, drop: true } });
    expect(labels(facts)).toEqual(['material package 00:01:00;02']);
    const wrong = await read({ rate: [25, 1], material: { start: 1800, base: 25, drop: true } });
    expect(wrong.timecode?.format.drop).toBe(false);
    expect(wrong.problems.map(({ found }) => found)).toEqual(['a drop-frame flag at a rate without drop frame']);
  });

  it('is that of the file package, further on by where the clip starts in it, when the material package counts from zero', async () => {
    const facts = await read({ material: { start: 0, base: 24 }, file: CLOCK, positions: [24, 0] });
    expect(labels(facts)).toEqual(['file package 14:22:34:04']);
  });

  it('is that of the tape, by all start positions together', async () => {
    const facts = await read({ tape: CLOCK, reel: 'A003', positions: [24, 48] });
    expect(labels(facts)).toEqual(['tape package 14:22:36:04']);
    expect(facts.reel).toBe('A003');
  });

  it('is stated twice when packages disagree', async () => {
    const facts = await read({ material: CLOCK, file: { start: 240, base: 24 } });
    expect(labels(facts)).toEqual(['material package 14:22:33:04', 'file package 00:00:10:00']);
    expect(facts.timecode?.frame).toBe(1_242_076);
  });

  it('starts at zero when everything says so', async () => {
    expect(labels(await read({ material: { start: 0, base: 24 }, file: { start: 0, base: 24 } }))).toEqual(['material package 00:00:00:00']);
  });

  it('counts at the half rate when its base is half that of the picture', async () => {
    const facts = await read({ rate: [50, 1], material: { start: 25, base: 25 } });
    expect(facts).toMatchObject({ rate: { num: 50, den: 1 }, timecodeRate: { num: 25, den: 1 } });
    expect(labels(facts)).toEqual(['material package 00:00:01:00']);
  });

  it('is followed through no loop', async () => {
    expect(labels(await read({ material: CLOCK, loop: true }))).toEqual(['material package 14:22:33:04']);
  });
});

describe('whether an MXF file is all there', () => {
  it('holds when the footer stands where the header says', async () => {
    for (const index of [true, false]) expect((await read({ index })).completeness).toMatchObject({ condition: 'whole', complete: true });
  });

  it('fails at every length that takes the footer away', async () => {
    const whole = mxf({ material: CLOCK, index: false });
    for (let length = 1; length < whole.length; length += 7) {
      const { completeness } = await readMxf(sourceOf(whole.subarray(0, length)));
      expect([length, completeness.complete]).toEqual([length, false]);
      expect(['truncated', 'unreadable']).toContain(completeness.condition);
    }
  });

  it('still gives what the header of a cut-off file says', async () => {
    const whole = mxf({ material: CLOCK });
    const facts = await readMxf(sourceOf(whole.subarray(0, whole.length - 2000)));
    expect(facts).toMatchObject({ completeness: { condition: 'truncated', complete: false }, frames: 48 });
    expect(facts.completeness.why).toMatch(/^its footer should stand at byte \d+, the file ends at \d+$/u);
  });

  it('fails when something else stands where the footer should', async () => {
    const whole = mxf({ index: false });
    const shifted = bytes(whole.subarray(0, 3000), zeros(5), whole.subarray(3000));
    expect((await readMxf(sourceOf(shifted))).completeness.condition).toBe('truncated');
  });

  it('is not known of a file still being written', async () => {
    const facts = await readMxf(sourceOf(openMxf({ material: CLOCK })));
    expect(facts.completeness).toMatchObject({ condition: 'open', complete: null });
    expect(facts.frames).toBeUndefined();
    expect(labels(facts)).toEqual(['material package 14:22:33:04']);
  });

  it('holds for a file whose header was never updated, when its index of parts leads to the footer', async () => {
    const facts = await read({ header: { status: 1, footer: 'unknown' } });
    expect(facts.completeness.condition).toBe('whole');
  });

  it('takes the length from the footer when the header was never updated', async () => {
    expect((await read({ header: { status: 1, footer: 'unknown' }, frames: 'unknown', footerFrames: 72 })).frames).toBe(72);
  });

  it('is not known of a closed file without footer and index', async () => {
    const facts = await readMxf(sourceOf(mxf({ header: { footer: 'unknown' }, index: false })));
    expect(facts.completeness).toMatchObject({ condition: 'unverified', complete: null });
  });

  it('calls other files unreadable and empty ones empty', async () => {
    expect((await readMxf(sourceOf(bytes('renamed text')))).completeness.condition).toBe('unreadable');
    expect((await readMxf(sourceOf(zeros(0)))).completeness.condition).toBe('empty');
    expect((await readMxf(sourceOf(fromHex('060e2b34')))).completeness.condition).toBe('unreadable');
  });
});

describe('how much is read', () => {
  it('is three looks', async () => {
    const source = countingSource(bytes(mxf({ material: CLOCK })));
    await readMxf(source);
    expect(source.asked.reads).toBeLessThanOrEqual(3);
  });
});
