import { inflateSync } from 'node:zlib';

const WOFF_HEADER = 44;
const WOFF_ENTRY = 20;
const SFNT_HEADER = 12;
const SFNT_ENTRY = 16;

/**
 * The plain font inside a WOFF 1.0 file (W3C Recommendation, 13 December 2012): its tables inflated, one after another. Read
 * packed, every glyph would inflate the whole outline table again.
 * @throws {RangeError} when it is no WOFF 1.0 file.
 */
export function unpackWoff(woff: Buffer): Buffer {
  if (woff.toString('latin1', 0, 4) !== 'wOFF') throw new RangeError('not a WOFF 1.0 file');
  const count = woff.readUInt16BE(12);
  const tables = Array.from({ length: count }, (_, index) => tableOf(woff, WOFF_HEADER + WOFF_ENTRY * index));
  const size = tables.reduce((sum, { bytes }) => sum + padded(bytes.length), SFNT_HEADER + SFNT_ENTRY * count);
  const sfnt = Buffer.alloc(size);
  woff.copy(sfnt, 0, 4, 8);
  sfnt.writeUInt16BE(count, 4);
  let offset = SFNT_HEADER + SFNT_ENTRY * count;
  for (const [index, { tag, checksum, bytes }] of tables.entries()) {
    const entry = SFNT_HEADER + SFNT_ENTRY * index;
    tag.copy(sfnt, entry);
    sfnt.writeUInt32BE(checksum, entry + 4);
    sfnt.writeUInt32BE(offset, entry + 8);
    sfnt.writeUInt32BE(bytes.length, entry + 12);
    bytes.copy(sfnt, offset);
    offset += padded(bytes.length);
  }
  return sfnt;
}

function tableOf(woff: Buffer, entry: number): { readonly tag: Buffer; readonly checksum: number; readonly bytes: Buffer } {
  const [offset, packed, size, checksum] = [4, 8, 12, 16].map((at) => woff.readUInt32BE(entry + at)) as [number, number, number, number];
  const bytes = woff.subarray(offset, offset + packed);
  return { tag: woff.subarray(entry, entry + 4), checksum, bytes: packed < size ? inflateSync(bytes) : bytes };
}

/** Tables begin at multiples of four bytes. */
function padded(length: number): number {
  return (length + 3) & ~3;
}
