import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ByteSource } from '../../../src/formats/media/byte-source.ts';
import { READ_BUDGET_BYTES } from '../../../src/formats/media/byte-source.ts';
import { readDpx } from '../../../src/formats/media/dpx.ts';
import { readExr } from '../../../src/formats/media/exr.ts';
import type { MediaFacts } from '../../../src/formats/media/media-facts.ts';
import { problemsOf, statementsOf } from '../../../src/formats/media/media-facts.ts';
import { readMov } from '../../../src/formats/media/mov.ts';
import { readMxf } from '../../../src/formats/media/mxf.ts';
import { readPng } from '../../../src/formats/media/png.ts';
import { readTiff } from '../../../src/formats/media/tiff.ts';
import { be16, be32, be64, bytes, countingSource, fromHex, le32, le64, patched, zeros } from './build.ts';
import { box, longBox, movie } from './build-movie.ts';
import { comment, klv, mxf } from './build-mxf.ts';
import { attribute, dpx, exr, exrFloat, exrText, exrTimecode, multiPartExr, png, tiff, tiffText } from './build-picture.ts';

const TIMECODE = { frame: 1_242_076, base: 24, timescale: 24_000, frameTicks: 1001, reel: 'A003R', edits: [[600, 0]] as const };
const CLOCK = { start: 1_242_076, base: 24 };

/** Every reader with whole files that it reads in full. */
const READERS: readonly (readonly [name: string, read: (source: ByteSource) => Promise<MediaFacts>, samples: readonly Uint8Array[]])[] = [
  ['MOV', readMov, [
    movie({ timecode: TIMECODE, edits: [[600, 0]], firstOffset: 1000, inIndex: [box('udta', box('©day', be16(10), be16(0), '2026-11-25'), box('meta', be32(0), box('hdlr', zeros(8), 'mdir', zeros(13)), box('ilst', box('©too', box('data', be32(1), be32(0), 'x')))))] }),
    movie({ order: 'index-first', long: true, timing: [[3, 1000], [4, 1001]] }),
    bytes(box('ftyp', 'iso5', be32(0)), box('moov', box('mvhd', zeros(100)), box('mvex', box('trex', zeros(24)))), box('moof', box('traf', box('tfhd', be32(8), be32(1), be32(1000)), box('trun', be32(0x101), be32(4), be32(0), zeros(16)))), box('mdat', zeros(64))),
  ]],
  ['MXF', readMxf, [mxf({ material: CLOCK, file: CLOCK, tape: CLOCK, reel: 'A003', sets: [comment(900, 'Scene', '27B')], primer: [[0x8001, '060e2b34 01010102 04200201 01040000']] })]],
  ['DPX', readDpx, [dpx({ words: { 1920: 0x1011_1213 }, floats: { 1724: 24 } })]],
  ['OpenEXR', readExr, [exr([exrTimecode(0x1402_3104), exrFloat('tStop', 2.8), exrText('reelName', 'A003')]), multiPartExr([[], []])]],
  ['TIFF', readTiff, [tiff({ entries: [tiffText(272, 'X1'), tiffText(270, 'a longer description')] }), tiff({ little: false, big: true })]],
  ['PNG', readPng, [png([['tEXt', bytes('Comment', 0, 'text')], ['iTXt', bytes('a', 0, 0, 0, 0, 0, 'b')]])]],
];

/** Facts of any bytes at all: no throw, no reading without end, and nothing in them that is no number. */
async function survives(read: (source: ByteSource) => Promise<MediaFacts>, content: Uint8Array): Promise<MediaFacts> {
  const source = countingSource(content);
  const facts = await read(source);
  expect(source.asked.bytes).toBeLessThanOrEqual(READ_BUDGET_BYTES);
  expect(source.asked.reads).toBeLessThanOrEqual(20_000);
  for (const { field, value } of facts.values) if (typeof value === 'number') expect([field, Number.isNaN(value)]).toEqual([field, false]);
  if (facts.timecode !== undefined) expect(Number.isSafeInteger(facts.timecode.frame) && facts.timecode.frame >= 0).toBe(true);
  if (facts.frames !== undefined) expect(Number.isSafeInteger(facts.frames) && facts.frames > 0).toBe(true);
  statementsOf(facts, 'a');
  problemsOf(facts, 'a');
  return facts;
}

describe.each(READERS)('the %s reader', (_, read, samples) => {
  it('reads its samples whole', async () => {
    for (const sample of samples) expect((await survives(read, sample)).completeness.complete).toBe(true);
  });

  it('survives random bytes, also behind a right beginning', async () => {
    const right = fc.constantFrom(zeros(0), ...samples.flatMap((sample) => [sample.subarray(0, 8), sample.subarray(0, 40), sample.subarray(0, 200)]));
    await fc.assert(fc.asyncProperty(right, fc.uint8Array({ maxLength: 3000 }), async (start, noise) => void (await survives(read, bytes(start, noise)))), { numRuns: 150 });
  });

  it('survives every whole file with some bytes changed, taken out or cut off', async () => {
    const change = fc.record({ at: fc.nat(1_000_000), value: fc.constantFrom(0, 1, 0x7f, 0x80, 0xff, 0x20), width: fc.constantFrom(1, 2, 4, 8) });
    const wish = fc.record({ sample: fc.constantFrom(...samples), changes: fc.array(change, { minLength: 1, maxLength: 6 }), cut: fc.option(fc.nat(1_000_000)), hole: fc.option(fc.nat(1_000_000)) });
    await fc.assert(
      fc.asyncProperty(wish, async ({ sample, changes, cut, hole }) => {
        let content = sample;
        for (const { at, value, width } of changes) {
          const start = at % content.length;
          content = patched(content, start, new Uint8Array(Math.min(width, content.length - start)).fill(value));
        }
        if (hole !== null) content = bytes(content.subarray(0, hole % content.length), content.subarray((hole % content.length) + 5));
        if (cut !== null) content = content.subarray(0, cut % (content.length + 1));
        await survives(read, content);
      }),
      { numRuns: 400 },
    );
  });
});

describe('a movie built to do harm', () => {
  it('with ten thousand tiny boxes reads as fast as any', async () => {
    const crowd = bytes(...Array.from({ length: 10_000 }, () => box('free')));
    const source = countingSource(bytes(box('ftyp', 'qt  '), crowd, movie().subarray(20)));
    await readMov(source);
    expect(source.asked.reads).toBeLessThan(12);
    expect((await survives(readMov, movie({ top: [crowd] }))).completeness.complete).toBe(true);
  });

  it('with boxes of every impossible size stops there', async () => {
    for (const size of [1, 2, 7]) await survives(readMov, bytes(box('ftyp', 'qt  '), be32(size), 'moov', zeros(100)));
    await survives(readMov, bytes(box('ftyp', 'qt  '), be32(1), 'moov', be64(0xffff_ffff_ffff_ffffn), zeros(10)));
    await survives(readMov, bytes(box('ftyp', 'qt  '), be32(1), 'moov', be64(15), zeros(100)));
    await survives(readMov, bytes(box('ftyp', 'qt  '), be32(0), 'moov'));
  });

  it('nested a thousand deep is not followed down', async () => {
    let deep = box('trak');
    for (let depth = 0; depth < 1000; depth++) deep = box(['moov', 'trak', 'mdia', 'minf', 'stbl', 'udta', 'meta'][depth % 7] ?? 'trak', deep);
    await survives(readMov, bytes(box('ftyp', 'qt  '), box('moov', deep)));
  });

  it('whose tables claim four thousand million entries is held to what its boxes hold', async () => {
    const whole = movie({ timecode: TIMECODE });
    for (const table of ['stts', 'stco', 'stsc', 'stsz', 'elst', 'stsd', 'name']) {
      const at = Buffer.from(whole).indexOf(table);
      await survives(readMov, patched(whole, at + 8, be32(0xffff_ffff)));
      await survives(readMov, patched(whole, at + 4, fromHex('ffffffffffffffff')));
    }
  });

  it('with thousands of tracks is given up on in good time', async () => {
    const track = movie({ timecode: TIMECODE }).subarray(-900);
    const at = Buffer.from(track).indexOf('trak');
    const tracks = bytes(...Array.from({ length: 5000 }, () => track.subarray(at - 4)));
    await survives(readMov, bytes(box('ftyp', 'qt  '), box('moov', tracks)));
  });

  it('with a 64-bit size that reaches beyond the file is cut off', async () => {
    const long = longBox('mdat', zeros(16));
    const whole = bytes(box('ftyp', 'qt  '), movie().subarray(-1000), patched(long, 8, be64(2n ** 60n)));
    expect((await survives(readMov, whole)).completeness.complete).toBe(false);
  });
});

describe('pictures and MXF built to do harm', () => {
  it('are read without following lengths beyond the file', async () => {
    await survives(readExr, bytes(fromHex('762f3101'), le32(0x1002), ...Array.from({ length: 3000 }, (_, index) => bytes(attribute(`a${index}`, 'int', le32(1)), 0))));
    await survives(readTiff, bytes('II', 43, 0, 8, 0, 0, 0, le64(16), le64(2 ** 40)));
    await survives(readTiff, bytes('II', 42, 0, le32(8), 0xff, 0xff, zeros(100)));
    await survives(readPng, bytes(fromHex('89504e470d0a1a0a'), be32(13), 'IHDR', zeros(17), ...Array.from({ length: 5000 }, () => bytes(be32(0), 'tEXt', be32(0)))));
    await survives(readMxf, bytes(mxf({ material: CLOCK }).subarray(0, 400), ...Array.from({ length: 3000 }, () => klv('060e2b34 02530101 0d010101 01013600', zeros(4)))));
  });

  it('with a run-in of nothing but key beginnings end the search', async () => {
    await survives(readMxf, new Uint8Array(200_000).fill(6));
  });
});

describe('a source that cannot be read', () => {
  it('says so itself: a card pulled out is no fact about the file', async () => {
    const gone: ByteSource = { size: 1000, read: () => Promise.reject(new Error('EIO')) };
    for (const [, read] of READERS) await expect(read(gone)).rejects.toThrow('EIO');
  });

  it('that gives less than its size promises is a damaged file', async () => {
    for (const [, read, [sample = zeros(0)]] of READERS) {
      const short: ByteSource = { size: sample.length, read: (offset, length) => Promise.resolve(sample.subarray(offset, offset + Math.floor(length / 2))) };
      expect((await read(short)).completeness.complete).toBe(false);
    }
  });
});
