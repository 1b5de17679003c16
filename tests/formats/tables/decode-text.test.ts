import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decodeText } from '../../../src/formats/tables/decode-text.ts';

const sample = 'Slate,Notes\r\n27B,clé – 12′6″ 🎬\r\n';

/** UTF-16 of either byte order, with a mark or without. */
function utf16(text: string, littleEndian: boolean, marked: boolean): Uint8Array {
  const units = [...(marked ? [0xfeff] : []), ...Array.from({ length: text.length }, (_, at) => text.charCodeAt(at))];
  const bytes = new Uint8Array(2 * units.length);
  for (const [at, unit] of units.entries()) new DataView(bytes.buffer).setUint16(2 * at, unit, littleEndian);
  return bytes;
}

describe('decoding a table', () => {
  it.each([
    ['UTF-8', new TextEncoder().encode(sample), 'utf-8'],
    ['UTF-8 with a byte order mark', new TextEncoder().encode(`\uFEFF${sample}`), 'utf-8'],
    ['UTF-16 little-endian with a mark', utf16(sample, true, true), 'utf-16le'],
    ['UTF-16 big-endian with a mark', utf16(sample, false, true), 'utf-16be'],
    ['UTF-16 little-endian without a mark', utf16(sample, true, false), 'utf-16le'],
    ['UTF-16 big-endian without a mark', utf16(sample, false, false), 'utf-16be'],
  ])('%s', (_name, bytes, encoding) => {
    expect(decodeText(bytes)).toEqual({ text: sample, encoding, assumed: false });
  });

  it('falls back to Windows-1252, and says that this is an assumption', () => {
    expect(decodeText(new Uint8Array([0x63, 0x6c, 0xe9, 0x20, 0x96, 0x20, 0x80, 0x33]))).toEqual({ text: 'clé – €3', encoding: 'windows-1252', assumed: true });
  });

  it('puts the replacement character for half a surrogate pair, and drops an odd last byte', () => {
    const half = utf16('ab\uD83Dcd', true, true);
    expect(decodeText(new Uint8Array([...half, 0x41])).text).toBe('ab\uFFFDcd');
  });

  it('reads a text longer than one chunk', () => {
    const long = 'é,'.repeat(30_000);
    expect(decodeText(new TextEncoder().encode(long)).text).toBe(long);
  });

  // The runtime's decoder follows the WHATWG Encoding Standard.
  it('agrees with the WHATWG decoder on what is UTF-8 and what it says', () => {
    const bytes = fc.oneof(fc.uint8Array({ maxLength: 60 }), fc.string({ unit: 'binary', maxLength: 40 }).map((text) => new TextEncoder().encode(text)));
    fc.assert(fc.property(bytes, (input) => {
      const read = decodeText(input);
      if (read.encoding.startsWith('utf-16')) return;
      let outside: string | undefined;
      try {
        outside = new TextDecoder('utf-8', { fatal: true }).decode(input);
      } catch {
        outside = undefined;
      }
      expect(read.encoding).toBe(outside === undefined ? 'windows-1252' : 'utf-8');
      if (outside !== undefined) expect(read.text).toBe(outside);
    }), { numRuns: 500 });
  });

  it('agrees with the WHATWG decoder on every byte of Windows-1252', () => {
    // 0xFF 0xE9 is no UTF-8, so the whole is read as Windows-1252.
    const bytes = new Uint8Array([0xe9, 0x20, ...Array.from({ length: 256 }, (_, byte) => byte)]);
    const outside = new TextDecoder('windows-1252').decode(bytes);
    expect(decodeText(bytes)).toEqual({ text: outside, encoding: 'windows-1252', assumed: true });
  });
});
