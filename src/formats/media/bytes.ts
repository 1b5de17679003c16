/** Bytes that cannot be what they claim to be. Readers turn it into a fact about the file; it never ends a day. */
export class MalformedError extends Error {
  readonly place: string;
  readonly found: string;
  readonly expected: string;

  constructor(place: string, found: string, expected: string) {
    super(`${place}: found ${found}, expected ${expected}`);
    this.name = 'MalformedError';
    this.place = place;
    this.found = found;
    this.expected = expected;
  }
}

function assertHeld(bytes: Uint8Array, at: number, length: number): void {
  if (at < 0 || at + length > bytes.length) throw new MalformedError(`offset ${at}`, `${Math.max(0, bytes.length - at)} bytes`, `${length} bytes`);
}

function byteAt(bytes: Uint8Array, at: number): number {
  return bytes[at] ?? 0;
}

/** One byte. Every getter here throws {@link MalformedError} when the bytes end before the value does. */
export function u8(bytes: Uint8Array, at: number): number {
  assertHeld(bytes, at, 1);
  return byteAt(bytes, at);
}

/** 16 bits, most significant byte first unless `little`. */
export function u16(bytes: Uint8Array, at: number, little = false): number {
  assertHeld(bytes, at, 2);
  return little ? byteAt(bytes, at) | (byteAt(bytes, at + 1) << 8) : (byteAt(bytes, at) << 8) | byteAt(bytes, at + 1);
}

/** 32 bits, unsigned. */
export function u32(bytes: Uint8Array, at: number, little = false): number {
  const first = u16(bytes, at, little);
  const second = u16(bytes, at + 2, little);
  return little ? second * 0x10000 + first : first * 0x10000 + second;
}

/** 32 bits, two's complement. */
export function i32(bytes: Uint8Array, at: number, little = false): number {
  return u32(bytes, at, little) | 0;
}

/** 64 bits, unsigned. @throws {MalformedError} also above 2^53, where a number would no longer be exact. */
export function u64(bytes: Uint8Array, at: number, little = false): number {
  const first = u32(bytes, at, little);
  const second = u32(bytes, at + 4, little);
  const value = little ? second * 0x1_0000_0000 + first : first * 0x1_0000_0000 + second;
  if (!Number.isSafeInteger(value)) throw new MalformedError(`offset ${at}`, 'a 64-bit number above 2^53', 'a size or count');
  return value;
}

/** 64 bits, two's complement. @throws {MalformedError} beyond ±2^53. */
export function i64(bytes: Uint8Array, at: number, little = false): number {
  const high = i32(bytes, little ? at + 4 : at, little);
  const value = high * 0x1_0000_0000 + u32(bytes, little ? at : at + 4, little);
  if (!Number.isSafeInteger(value)) throw new MalformedError(`offset ${at}`, 'a 64-bit number beyond 2^53', 'a time or count');
  return value;
}

/** 32-bit float, as the shortest decimal that means it (2.9, not 2.9000000953674316); NaN and infinities come through as they are. */
export function f32(bytes: Uint8Array, at: number, little = false): number {
  assertHeld(bytes, at, 4);
  return shortest(new DataView(bytes.buffer, bytes.byteOffset + at, 4).getFloat32(0, little));
}

/** Six to nine digits always suffice to tell 32-bit floats apart (IEEE 754). */
function shortest(value: number): number {
  for (let digits = 6; digits < 9; digits++) {
    const candidate = Number(value.toPrecision(digits));
    if (Math.fround(candidate) === value) return candidate;
  }
  return value;
}

/** 64-bit float. */
export function f64(bytes: Uint8Array, at: number, little = false): number {
  assertHeld(bytes, at, 8);
  return new DataView(bytes.buffer, bytes.byteOffset + at, 8).getFloat64(0, little);
}

/** `length` bytes from `at`. */
export function slice(bytes: Uint8Array, at: number, length: number): Uint8Array {
  assertHeld(bytes, at, length);
  return bytes.subarray(at, at + length);
}

const HEX = Array.from({ length: 256 }, (_, byte) => byte.toString(16).padStart(2, '0'));

/** Lower-case hex without separators, for keys and labels. */
export function hex(bytes: Uint8Array): string {
  let text = '';
  for (const byte of bytes) text += HEX[byte];
  return text;
}
