import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { READ_BUDGET_BYTES } from '../../src/formats/media/byte-source.ts';
import { problemsOf, statementsOf } from '../../src/formats/media/media-facts.ts';
import { readMedia } from '../../src/formats/media/media-kind.ts';
import { acquisitionOf } from '../../src/formats/media/acquisition.ts';
import { MalformedError } from '../../src/formats/media/bytes.ts';
import { readF4 } from '../../src/formats/tables/frame-data/read-f4.ts';
import { be16, be32, bytes, countingSource, fromHex, zeros } from '../formats/media/build.ts';
import { box, movie } from '../formats/media/build-movie.ts';
import { comment, mxf } from '../formats/media/build-mxf.ts';
import { dpx, exr, exrFloat, exrText, exrTimecode, multiPartExr, png, tiff, tiffText } from '../formats/media/build-picture.ts';
import { PATIENCE_MS, runs, spoiledBytes, survives } from './fuzz.ts';

const TIMECODE = { frame: 1_242_076, base: 24, timescale: 24_000, frameTicks: 1001, reel: 'A003R', edits: [[600, 0]] as const };
const CLOCK = { start: 1_242_076, base: 24 };
const fragmented = bytes(
  box('ftyp', 'iso5', be32(0)), box('moov', box('mvhd', zeros(100)), box('mvex', box('trex', zeros(24)))),
  box('moof', box('traf', box('tfhd', be32(8), be32(1), be32(1000)), box('trun', be32(0x101), be32(4), be32(0), zeros(16)))), box('mdat', zeros(64)),
);

/** Every name a header reader goes by, with whole files of its kind. */
const KINDS: readonly (readonly [name: string, samples: readonly Uint8Array[]])[] = [
  ['a.mov', [movie({ timecode: TIMECODE, edits: [[600, 0]], inIndex: [box('udta', box('©day', be16(10), be16(0), '2026-11-25'))] }), movie({ order: 'index-first', long: true, timing: [[3, 1000], [4, 1001]] }), fragmented]],
  ['a.mxf', [mxf({ material: CLOCK, file: CLOCK, tape: CLOCK, reel: 'A003', sets: [comment(900, 'Scene', '27B')], primer: [[0x8001, '060e2b34 01010102 04200201 01040000']] })]],
  ['p.dpx', [dpx({ words: { 1920: 0x1011_1213 }, floats: { 1724: 24 } }), dpx({ little: true })]],
  ['p.exr', [exr([exrTimecode(0x1402_3104), exrFloat('tStop', 2.8), exrText('reelName', 'A003')]), multiPartExr([[], []])]],
  ['p.tif', [tiff({ entries: [tiffText(272, 'X1'), tiffText(270, 'a longer description')] }), tiff({ little: false, big: true })]],
  ['p.png', [png([['tEXt', bytes('Comment', 0, 'text')], ['iTXt', bytes('a', 0, 0, 0, 0, 0, 'b')]])]],
  ['a.braw', [movie({ codec: 'brxq' })]], ['p.dng', [tiff({})]], ['p.ari', [bytes('ARRI', zeros(4092))]], ['a.r3d', [bytes(0, 0, 2, 0, 'RED2', zeros(504))]],
];

describe.each(KINDS)('any bytes as %s', (name, samples) => {
  it('are facts in good time, of few reads, with nothing in them that is no number', async () => {
    const parse = async (content: Uint8Array): Promise<unknown> => {
      const source = countingSource(content);
      const facts = await readMedia(source, name);
      expect(source.asked.bytes).toBeLessThanOrEqual(READ_BUDGET_BYTES);
      expect(source.asked.reads).toBeLessThanOrEqual(20_000);
      return facts === undefined ? undefined : [facts, statementsOf(facts, name), problemsOf(facts, name)];
    };
    await fc.assert(fc.asyncProperty(spoiledBytes(samples), async (content) => survives(parse, content)), runs(250));
  }, PATIENCE_MS);
});

describe('metadata tracks', () => {
  it('of any bytes are lens and camera values, or say where they are broken', async () => {
    const items = bytes(...[0x8000, 0x8001, 0x8004, 0x8007, 0x800a, 0x8106, 0x8109, 0x810b, 0x810e, 0x8114].map((tag) => bytes(be16(tag), be16(2), be16(0xc123))));
    const track = bytes(fromHex('060e2b34 02530101 0c020101 01010000'), 0x83, 0, 0, items.length, items, fromHex('060e2b34 02530101 0c020101 02010000'), items.length, items);
    await fc.assert(fc.asyncProperty(spoiledBytes([track]), async (content) => survives((one) => acquisitionOf(one, 'frame 1'), content, [MalformedError])), runs(250));
  }, PATIENCE_MS);

  it('of a tracking stream of any bytes are values a frame, or problems', async () => {
    const blocks = [[0x02, 0xff, 1, 2, 3], [0x13, 0, 1, 2, 3], [0x57, 0x3f, 0, 0, 0], [0xf8, 0x20, 0x3c, 0x3b, 0x16]].flat();
    const unsummed = [0xf4, 1, 4, 0x10, ...blocks];
    const packet = Uint8Array.from([...unsummed, (0x40 - unsummed.reduce((total, byte) => total + byte, 0)) & 0xff]);
    const film = bytes(packet, packet, packet, packet);
    const parse = (content: Uint8Array): unknown => {
      const { note, problems } = readF4(content, 'a.f4');
      // A frame without a value is NaN in a track, and is asked for as such.
      return [note.statements, problems, note.tracks.map(({ values }) => Object.keys(values))];
    };
    await fc.assert(fc.asyncProperty(spoiledBytes([film]), async (content) => survives(parse, content)), runs(250));
  }, PATIENCE_MS);
});
