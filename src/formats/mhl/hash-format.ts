/** The digests ASC MHL 2.0 knows, in the order its schema wants them in. */
export const HASH_FORMATS = ['c4', 'md5', 'sha1', 'xxh128', 'xxh3', 'xxh64'] as const;

export type HashFormat = (typeof HASH_FORMATS)[number];

/** Digests of one file in text form: lower-case hex with the most significant byte first; C4 with its "c4" prefix. */
export type Digests = Readonly<Partial<Record<HashFormat, string>>>;

/** Hashes bytes in memory. */
export type Digest = (format: HashFormat, bytes: Uint8Array) => string;

const HEX_LENGTH: Readonly<Record<Exclude<HashFormat, 'c4'>, number>> = { md5: 32, sha1: 40, xxh128: 32, xxh3: 16, xxh64: 16 };
/** No 0, O, I or l; in the order of their values. */
const C4_SIGNS = '123456789ABCDEFGHJKLMNPQRSTUVWXYZabcdefghijkmnopqrstuvwxyz';
/** 58^88 is the first power of 58 above 2^512. */
const C4_LENGTH = 88;

export function isHashFormat(name: string): name is HashFormat {
  return HASH_FORMATS.some((format) => format === name);
}

/** Undefined when the text is a digest of that format, else what is wrong with it, in words. */
export function digestFault(format: HashFormat, text: string): string | undefined {
  if (format === 'c4') return c4Value(text) === undefined ? '"c4" and 88 signs of base 58 that hold 512 bits' : undefined;
  const length = HEX_LENGTH[format];
  return text.length === length && /^[0-9a-f]*$/.test(text) ? undefined : `${length} lower-case hexadecimal digits`;
}

/** The bytes a digest stands for. @throws {RangeError} when the text is no digest of that format. */
export function digestBytes(format: HashFormat, text: string): Uint8Array {
  const fault = digestFault(format, text);
  if (fault !== undefined) throw new RangeError(`${format} digest "${text}": expected ${fault}`);
  const hex = format === 'c4' ? (c4Value(text) ?? 0n).toString(16).padStart(128, '0') : text;
  return Uint8Array.from({ length: hex.length / 2 }, (_, index) => Number.parseInt(hex.slice(index * 2, index * 2 + 2), 16));
}

/** The C4 identifier (SMPTE ST 2114) of a SHA-512 written as hex: base 58, padded to 88 signs with the sign for zero. */
export function c4FromSha512(hex: string): string {
  let value = BigInt(`0x${hex}`);
  let signs = '';
  for (; value > 0n; value /= 58n) signs = (C4_SIGNS[Number(value % 58n)] ?? '') + signs;
  return `c4${signs.padStart(C4_LENGTH, '1')}`;
}

function c4Value(text: string): bigint | undefined {
  if (!text.startsWith('c4') || text.length !== C4_LENGTH + 2) return undefined;
  let value = 0n;
  for (const sign of text.slice(2)) {
    const worth = C4_SIGNS.indexOf(sign);
    if (worth < 0) return undefined;
    value = value * 58n + BigInt(worth);
  }
  return value < 1n << 512n ? value : undefined;
}
