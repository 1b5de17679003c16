import type { Reader } from './byte-source.ts';
import { hex, MalformedError, u8 } from './bytes.ts';

/** One key-length-value packet (SMPTE ST 336). `key` is hex; `value` where its value starts, `end` where it ends, as declared. */
export interface Klv {
  readonly key: string;
  readonly start: number;
  readonly value: number;
  readonly end: number;
}

/** First four bytes of every SMPTE universal label. */
const UL_START = '060e2b34';
const LONGEST_HEADER = 25;

/** The packet at an offset, or undefined where none stands. @throws {MalformedError} on a length no file can have. */
export async function klvAt(reader: Reader, at: number): Promise<Klv | undefined> {
  if (at < 0 || at + 17 > reader.size) return undefined;
  const bytes = await reader.look(at, Math.min(LONGEST_HEADER, reader.size - at));
  const key = hex(bytes.subarray(0, 16));
  if (!key.startsWith(UL_START)) return undefined;
  const length = berLength(bytes, at);
  if (length === undefined) return undefined;
  return { key, start: at, value: at + 16 + length.width, end: at + 16 + length.width + length.value };
}

/** A length as ASN.1 BER writes it: one byte up to 127, else the count of bytes that follow. Undefined when cut off. */
function berLength(bytes: Uint8Array, at: number): { readonly value: number; readonly width: number } | undefined {
  const first = u8(bytes, 16);
  if (first < 0x80) return { value: first, width: 1 };
  const width = first & 0x7f;
  if (width === 0 || width > 8) throw new MalformedError(`byte ${at + 16}`, `a length of ${width} bytes`, '1 to 8');
  if (bytes.length < 17 + width) return undefined;
  return { value: bytes.subarray(17, 17 + width).reduce((sum, byte) => sum * 256 + byte, 0), width: 1 + width };
}

/** Filler between packets: any version of the fill item's key. */
export function isFill(key: string): boolean {
  return key.startsWith('060e2b340101') && key.slice(16) === '0301021001000000';
}
