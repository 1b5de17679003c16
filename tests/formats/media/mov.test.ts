import { describe, expect, it } from 'vitest';
import { formatTimecode } from '../../../src/core/timecode/timecode.ts';
import { sourceOf } from '../../../src/formats/media/byte-source.ts';
import type { MediaFacts } from '../../../src/formats/media/media-facts.ts';
import { readMov } from '../../../src/formats/media/mov.ts';
import { be16, be32, bytes, countingSource, patched, zeros } from './build.ts';
import type { MovieToBuild } from './build-movie.ts';
import { box, movie } from './build-movie.ts';

const TIMECODE = { frame: 1_242_076, base: 24, timescale: 24_000, frameTicks: 1001 };

async function read(wish: MovieToBuild = {}): Promise<MediaFacts> {
  return readMov(sourceOf(movie(wish)));
}

/** The timecode of the first picture as people read it. */
function label(facts: MediaFacts): string | undefined {
  return facts.timecode === undefined ? undefined : formatTimecode(facts.timecode);
}

describe('rate, length and raster of a movie', () => {
  it('gives the rate as the exact fraction its clock holds', async () => {
    const facts = await read({ timescale: 24_000, timing: [[24, 1001]] });
    expect(facts).toMatchObject({ container: 'mov', rate: { num: 24_000, den: 1001 }, frames: 24, raster: { width: 64, height: 36 }, codec: 'ProRes 422' });
    expect(facts.completeness).toMatchObject({ condition: 'whole', complete: true });
  });

  it('calls a file MP4 by its brand', async () => {
    expect((await read({ brand: 'isom', codec: 'avc1' })).container).toBe('mp4');
  });

  it('lets the last picture be longer or shorter than the others', async () => {
    expect((await read({ timing: [[23, 1000], [1, 700]] })).rate).toEqual({ num: 24, den: 1 });
  });

  it('takes picture times that alternate by one tick for the rate they round', async () => {
    // 23.976 on a clock of 600 ticks: 25.025 ticks a picture.
    const facts = await read({ timescale: 600, timing: [[39, 25], [1, 26], [39, 25], [1, 26], [39, 25], [1, 26], [1, 25]] });
    expect(facts.rate).toEqual({ num: 24_000, den: 1001 });
    expect(facts.values.find(({ field }) => field === 'fps')?.place).toContain('rounded');
  });

  it('gives no rate to a movie of variable rate, but its average, and says so', async () => {
    const facts = await read({ timing: [[12, 1000], [12, 3000]] });
    expect(facts.rate).toBeUndefined();
    expect(facts.averageRate).toEqual({ num: 12, den: 1 });
    expect(facts.problems.map(({ found }) => found)).toEqual(['a variable frame rate, 12 fps on average']);
  });

  it('notes a rotation, in degrees clockwise, and leaves the raster unturned', async () => {
    const quarter = [0, 0x10000, 0, -0x10000, 0, 0, 0, 0, 0x40000000];
    expect(await read({ matrix: quarter, size: [64, 36] })).toMatchObject({ rotationDeg: 90, raster: { width: 64, height: 36 } });
    expect((await read()).rotationDeg).toBeUndefined();
  });

  it('says when there is no picture track', async () => {
    const silent = bytes(box('ftyp', 'qt  ', be32(0), 'qt  '), box('moov', box('mvhd', zeros(100))), box('mdat', zeros(4)));
    const facts = await readMov(sourceOf(silent));
    expect(facts.problems.map(({ found }) => found)).toEqual(['no picture track']);
    expect(facts.frames).toBeUndefined();
  });
});

describe('edit lists', () => {
  it('count only the frames they let through', async () => {
    // 24 frames of which the edit shows 12, from the seventh on: 12 frames at 24 are 300 of 600 ticks.
    const facts = await read({ edits: [[300, 6000]] });
    expect(facts.frames).toBe(12);
    expect(facts.values.find(({ field }) => field === 'frames')?.place).toBe('video track, edit list: frames 6 to 17 of 24 are shown');
  });

  it('trim nothing when they begin at the first picture that is shown', async () => {
    // B-frames: pictures are stored out of order, and the first to be shown comes 2000 ticks in (written so by FFmpeg).
    expect((await read({ edits: [[600, 2000]], firstOffset: 2000 })).frames).toBe(24);
  });

  it('trim nothing by a gap before the picture', async () => {
    expect((await read({ edits: [[100, -1], [600, 0]] })).frames).toBe(24);
  });

  it('never show more than there is', async () => {
    expect((await read({ edits: [[99_999, 0]] })).frames).toBe(24);
  });

  it('of the timecode track move its first label', async () => {
    const facts = await read({ timing: [[24, 1001]], timecode: { ...TIMECODE, edits: [[600, 5005]] } });
    expect(label(facts)).toBe('14:22:33:09');
  });
});

describe('the timecode track', () => {
  it('gives start, base and reel', async () => {
    const facts = await read({ timing: [[24, 1001]], timecode: { ...TIMECODE, reel: 'A001R' } });
    // 14:22:33:04 at 24 labels a second is frame 1242076 (ST 12-1 counting).
    expect(label(facts)).toBe('14:22:33:04');
    expect(facts).toMatchObject({ timecode: { frame: 1_242_076, format: { base: 24, drop: false } }, timecodeRate: { num: 24_000, den: 1001 }, reel: 'A001R' });
    expect(facts.values.filter(({ place }) => place === 'tmcd track').map(({ field }) => field)).toEqual(['tcIn', 'dropFrame', 'timecodeRate', 'reel']);
  });

  it('gives drop-frame labels a semicolon', async () => {
    const facts = await read({ timescale: 30_000, timing: [[30, 1001]], timecode: { frame: 1800, base: 30, timescale: 30_000, frameTicks: 1001, drop: true } });
    // ST 12-1: the label after 00:00:59;29.
    expect(label(facts)).toBe('00:01:00;02');
  });

  it('keeps its own rate beside that of a file that runs twice as fast', async () => {
    const facts = await read({ timescale: 48_000, timing: [[48, 1000]], timecode: { frame: 24, base: 24, timescale: 24_000, frameTicks: 1000 } });
    expect(facts).toMatchObject({ rate: { num: 48, den: 1 }, timecodeRate: { num: 24, den: 1 } });
    expect(label(facts)).toBe('00:00:01:00');
  });

  it('is believed in no drop frame where none exists', async () => {
    const facts = await read({ timecode: { frame: 1800, base: 24, timescale: 24_000, frameTicks: 1000, drop: true } });
    expect(facts.timecode?.format.drop).toBe(false);
    expect(facts.problems.map(({ found }) => found)).toEqual(['a drop-frame flag at 24 labels a second']);
  });

  it('that only counts is no timecode', async () => {
    const facts = await read({ timecode: { ...TIMECODE, counter: true } });
    expect(facts.timecode).toBeUndefined();
    expect(facts.problems.map(({ found }) => found)).toEqual(['a plain counter']);
  });

  it('of several stretches gives the first and says so', async () => {
    const facts = await read({ timing: [[24, 1001]], timecode: { ...TIMECODE, samples: 3 } });
    expect(label(facts)).toBe('14:22:33:04');
    expect(facts.problems.map(({ found }) => found)).toEqual(['3 stretches of timecode']);
  });

  it('below zero is no timecode', async () => {
    const facts = await read({ timecode: { ...TIMECODE, frame: 0xffff_ffff } });
    expect(facts.timecode).toBeUndefined();
    expect(facts.problems).toHaveLength(1);
  });
});

describe('metadata', () => {
  const keys = ['com.apple.quicktime.model', 'com.example.scene'];
  const meta = box(
    'meta',
    box('hdlr', zeros(8), 'mdta', zeros(13)),
    box('keys', be32(0), be32(keys.length), ...keys.map((key) => box('mdta', key))),
    box('ilst', box('\0\0\0\x01', box('data', be32(1), be32(0), 'ExampleCam X1')), box('\0\0\0\x02', box('data', be32(1), be32(0), '27B'))),
  );

  it('by key gives texts with their place, and the camera model', async () => {
    const facts = await read({ inIndex: [meta] });
    expect(facts.values).toContainEqual({ field: 'cameraModel', value: 'ExampleCam X1', raw: 'ExampleCam X1', place: 'moov meta com.apple.quicktime.model' });
    expect(facts.texts).toContainEqual({ name: 'com.example.scene', text: '27B', place: 'moov meta com.example.scene' });
    expect(facts.moreMetadata).toBe(false);
  });

  it('in the MP4 form, with version and flags, reads alike', async () => {
    const full = box('meta', be32(0), meta.subarray(8));
    expect((await read({ inIndex: [box('udta', full)] })).texts.map(({ text }) => text)).toEqual(['ExampleCam X1', '27B']);
  });

  it('of user data gives texts', async () => {
    const facts = await read({ inIndex: [box('udta', box('©day', be16(10), be16(0), '2026-11-25'), be32(0))] });
    expect(facts.values).toContainEqual({ field: 'date', value: '2026-11-25', raw: '2026-11-25', place: 'moov udta ©day' });
  });

  it('it does not understand is named, so that another reader can be asked', async () => {
    const facts = await read({ inIndex: [box('udta', box('XMP_', '<x/>'))], top: [box('uuid', zeros(16))] });
    expect(facts.moreMetadata).toBe(true);
    expect(facts.notUnderstood).toEqual(['file uuid', 'moov udta XMP_']);
  });
});

describe('whether a movie is all there', () => {
  it.each(['index-first', 'index-last'] as const)('holds for a whole one with its %s, sizes in 32 or 64 bits', async (order) => {
    for (const long of [false, true]) expect((await read({ order, long })).completeness.condition).toBe('whole');
  });

  it('fails at every length it can be cut to', async () => {
    for (const order of ['index-first', 'index-last'] as const) {
      const whole = movie({ order, timecode: TIMECODE });
      for (let length = 0; length < whole.length; length++) {
        const { completeness } = await readMov(sourceOf(whole.subarray(0, length)));
        const expected = length === 0 ? 'empty' : length < 8 ? 'unreadable' : 'truncated';
        expect([length, completeness.condition, completeness.complete]).toEqual([length, expected, false]);
      }
    }
  });

  it('fails when the picture runs to the end of the file but the index knows of more', async () => {
    const whole = movie({ order: 'index-first' });
    const size = whole.length - 24 * 16 - 8;
    // Size 0: the box runs to the end of the file, wherever that is.
    const open = patched(whole, size, be32(0));
    expect((await readMov(sourceOf(open))).completeness.condition).toBe('whole');
    expect((await readMov(sourceOf(open.subarray(0, open.length - 1)))).completeness).toMatchObject({ condition: 'truncated', complete: false });
  });

  it('calls what begins like a movie and has no index cut off, and anything else unreadable', async () => {
    const noIndex = bytes(box('ftyp', 'qt  '), box('wide'), box('mdat', zeros(100)));
    expect((await readMov(sourceOf(noIndex))).completeness.condition).toBe('truncated');
    const text = bytes('Hello, this is a text that somebody renamed to .mov');
    expect((await readMov(sourceOf(text))).completeness.condition).toBe('unreadable');
    expect((await readMov(sourceOf(zeros(4096)))).completeness.condition).toBe('unreadable');
  });

  it('is not troubled by padding after the last box', async () => {
    expect((await readMov(sourceOf(bytes(movie(), zeros(512))))).completeness.condition).toBe('whole');
  });
});

describe('how much is read', () => {
  it('is one look for an index at the start and two or three for one at the end', async () => {
    for (const order of ['index-first', 'index-last'] as const) {
      const source = countingSource(movie({ order, timing: [[2400, 1001]], sampleBytes: 1000, timecode: TIMECODE }));
      expect((await readMov(source)).frames).toBe(2400);
      expect(source.asked.reads).toBeLessThanOrEqual(3);
      expect(source.asked.bytes).toBeLessThan(64 * 1024);
    }
  });
});
