import { describe, expect, it } from 'vitest';
import { acquisitionOf } from '../../../src/formats/media/acquisition.ts';
import { sourceOf } from '../../../src/formats/media/byte-source.ts';
import { readMov } from '../../../src/formats/media/mov.ts';
import { readMxf } from '../../../src/formats/media/mxf.ts';
import { be16, be32, be64, bytes, fromHex, patched, zeros } from './build.ts';
import { box, movie } from './build-movie.ts';
import { klv, mxf } from './build-mxf.ts';

// Tags and codings: EBU Tech 3349 (SMPTE RDD 18). No camera's file was at hand: the values are worked out from the codings.
const item = (tag: number, value: Uint8Array): Uint8Array => bytes(be16(tag), be16(value.length), value);
const LENS = klv('060e2b34 02530101 0c020101 01010000', item(0x8008, be16(0xd000)), item(0x8000, be16(0xd400)), item(0x8001, be16(0xe0fa)), item(0x8005, be16(0xd028)), item(0x8007, bytes('7040.0100')));
const CAMERA = klv(
  '060e2b34 02530101 0c020101 02010000',
  item(0x8106, bytes(be32(48), be32(1))), item(0x8108, be32(10_368)), item(0x8109, bytes(be32(1), be32(100))), item(0x810b, be16(500)), item(0x8115, be16(250)), item(0x810e, be16(4300)), item(0x8114, bytes('X1 0042')),
);

function pairs({ values }: ReturnType<typeof acquisitionOf>): readonly unknown[] {
  return values.map(({ field, value }) => [field, value]);
}

describe('what a camera records with each picture', () => {
  it('is lens and exposure', () => {
    const read = acquisitionOf(bytes(zeros(7), LENS, zeros(3), CAMERA), 'rtmd track');
    expect(pairs(read)).toEqual([
      // 2^(8 × (1 − 0xD000/0x10000)) = 2^1.5; 0xD400: 2^1.375; 250 × 10^-2 m; 40 × 10^-3 m.
      ['stop', { kind: 'T', number: 2.83 }], ['stop', { kind: 'f', number: 2.59 }], ['focusDistance', 2.5], ['focalLength', 40],
      ['sensorFps', { num: 48, den: 1 }], ['shutter', { kind: 'angle', degrees: 172.8 }], ['shutter', { kind: 'time', seconds: 0.01 }], ['ei', 250], ['whiteBalance', 4300],
    ]);
    expect(read.values[0]?.place).toBe('rtmd track, Iris (T)');
    expect(read.texts).toEqual([{ name: 'Lens Attributes', text: '7040.0100', place: 'rtmd track, Lens Attributes' }, { name: 'Camera Attributes', text: 'X1 0042', place: 'rtmd track, Camera Attributes' }]);
  });

  it('is the sensitivity where no exposure index is set', () => {
    const bare = klv('060e2b34 02530101 0c020101 02010000', item(0x810b, be16(500)));
    expect(pairs(acquisitionOf(bare, 'x'))).toEqual([['ei', 500]]);
  });

  it('is nothing where items are zero or all ones, and infinity far out', () => {
    const unknown = klv('060e2b34 02530101 0c020101 01010000', item(0x8008, be16(0)), item(0x8001, be16(0xffff)), item(0x8005, be16(0xf000)), item(0x810e, be16(0xffff)));
    expect(pairs(acquisitionOf(unknown, 'x'))).toEqual([]);
    expect(pairs(acquisitionOf(klv('060e2b34 02530101 0c020101 01010000', item(0x8001, be16(0x3fff))), 'x'))).toEqual([['focusDistance', Infinity]]);
  });

  it('is read no further than the items make sense', () => {
    const broken = klv('060e2b34 02530101 0c020101 01010000', item(0x8005, be16(0xd028)), bytes(0x43, 0x05, 0xff, 0x00), item(0x8001, be16(0xe0fa)));
    expect(pairs(acquisitionOf(broken, 'x'))).toEqual([['focalLength', 40]]);
    for (let length = 0; length < LENS.length; length++) acquisitionOf(LENS.subarray(0, length), 'x');
  });

  it('is found in the data of the first picture of an MXF file', async () => {
    const pictures = klv('060e2b34 01020101 0d010301 15010500', zeros(20_000));
    const data = klv('060e2b34 01020101 0d010301 17010201', be16(1), be16(9), 1, 4, be16(0), zeros(8), LENS, CAMERA);
    const whole = mxf();
    const body = Buffer.from(whole).indexOf(Buffer.from(fromHex('060e2b34010201010d0103011501')));
    // The body element of the built file is 4096 bytes behind a 20 byte header.
    const grown = bytes(whole.subarray(0, body), pictures, data, pictures, whole.subarray(body + 4116));
    const footerAt = grown.length - (whole.length - body - 4116);
    const facts = await readMxf(sourceOf(patched(grown, 20 + 24, be64(footerAt))));
    expect(facts.completeness.condition).toBe('whole');
    expect(facts.sensorRate).toEqual({ num: 48, den: 1 });
    expect(facts.values).toContainEqual({ field: 'focalLength', value: 40, raw: '40 mm', place: 'data of the first picture, Lens Zoom' });
  });

  it('is found in the metadata track of a movie', async () => {
    const sample = bytes(zeros(28), LENS, CAMERA);
    const tables = (at: number): Uint8Array => box('stbl', box('stsd', be32(0), be32(1), box('rtmd', zeros(6), be16(1))), box('stsz', be32(0), be32(sample.length), be32(1)), box('stco', be32(0), be32(1), be32(at)));
    const track = (at: number): Uint8Array => box('trak', box('tkhd', be32(0), zeros(8), be32(3), zeros(68)), box('mdia', box('mdhd', be32(0), zeros(8), be32(24), be32(0), zeros(4)), box('hdlr', zeros(8), 'meta', zeros(13)), box('minf', tables(at))));
    const top = box('free', sample);
    const facts = await readMov(sourceOf(movie({ top: [top], inIndex: [track(28)] })));
    expect(facts.values).toContainEqual({ field: 'whiteBalance', value: 4300, raw: '4300 K', place: 'rtmd track, White Balance' });
    expect(facts).toMatchObject({ frames: 24, moreMetadata: false, problems: [] });
  });
});
