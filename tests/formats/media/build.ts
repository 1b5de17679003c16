import type { ByteSource } from '../../../src/formats/media/byte-source.ts';

/** Bytes from pieces: numbers are single bytes, texts ISO 8859-1. */
export function bytes(...pieces: readonly (number | string | Uint8Array)[]): Uint8Array {
  const parts = pieces.map((piece) => (typeof piece === 'number' ? Uint8Array.of(piece) : typeof piece === 'string' ? Uint8Array.from(piece, (letter) => letter.charCodeAt(0)) : piece));
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

function written(length: number, write: (view: DataView) => void): Uint8Array {
  const view = new DataView(new ArrayBuffer(length));
  write(view);
  return new Uint8Array(view.buffer);
}

export const be16 = (value: number): Uint8Array => written(2, (view) => view.setUint16(0, value));
export const be32 = (value: number): Uint8Array => written(4, (view) => view.setUint32(0, value));
export const be64 = (value: number | bigint): Uint8Array => written(8, (view) => view.setBigUint64(0, BigInt.asUintN(64, BigInt(value))));
export const le16 = (value: number): Uint8Array => written(2, (view) => view.setUint16(0, value, true));
export const le32 = (value: number): Uint8Array => written(4, (view) => view.setUint32(0, value, true));
export const le64 = (value: number): Uint8Array => written(8, (view) => view.setBigUint64(0, BigInt(value), true));
export const leFloat = (value: number): Uint8Array => written(4, (view) => view.setFloat32(0, value, true));
export const beFloat = (value: number): Uint8Array => written(4, (view) => view.setFloat32(0, value));
export const zeros = (length: number): Uint8Array => new Uint8Array(length);

/** Bytes from hex digits; blanks are for the eye. */
export function fromHex(text: string): Uint8Array {
  return Uint8Array.from(text.replaceAll(/[\s.]/gu, '').match(/../gu) ?? [], (pair) => Number.parseInt(pair, 16));
}

/** A copy with other bytes at an offset. */
export function patched(original: Uint8Array, at: number, patch: Uint8Array): Uint8Array {
  const copy = Uint8Array.from(original);
  copy.set(patch, at);
  return copy;
}

/** A source that counts what is asked of it, and refuses to be asked for bytes outside itself. */
export function countingSource(content: Uint8Array): ByteSource & { readonly asked: { reads: number; bytes: number } } {
  const asked = { reads: 0, bytes: 0 };
  return {
    size: content.length,
    asked,
    read(offset, length) {
      if (offset < 0 || length < 0 || offset > content.length) throw new RangeError(`read of ${length} at ${offset} of ${content.length}`);
      asked.reads += 1;
      asked.bytes += length;
      return Promise.resolve(content.subarray(offset, offset + length));
    },
  };
}
