import { slice, u16 } from './bytes.ts';

/** Bytes as ISO 8859-1: every byte is a character, so it suits four-character codes. */
export function latin1(bytes: Uint8Array): string {
  let text = '';
  for (const byte of bytes) text += String.fromCharCode(byte);
  return text;
}

/** Bytes as UTF-8; what is not UTF-8 becomes U+FFFD. */
export function utf8(bytes: Uint8Array): string {
  let text = '';
  let at = 0;
  while (at < bytes.length) {
    const [codePoint, length] = codePointAt(bytes, at);
    text += String.fromCodePoint(codePoint);
    at += length;
  }
  return text;
}

const REPLACEMENT = [0xfffd, 1] as const;

function codePointAt(bytes: Uint8Array, at: number): readonly [codePoint: number, length: number] {
  const lead = bytes[at] ?? 0;
  if (lead < 0x80) return [lead, 1];
  const length = lead >= 0xf0 && lead < 0xf5 ? 4 : lead >= 0xe0 && lead < 0xf0 ? 3 : lead >= 0xc2 && lead < 0xe0 ? 2 : 0;
  if (length === 0) return REPLACEMENT;
  let codePoint = lead & (0x7f >> length);
  for (let index = 1; index < length; index++) {
    const next = bytes[at + index] ?? 0;
    if ((next & 0xc0) !== 0x80) return REPLACEMENT;
    codePoint = (codePoint << 6) | (next & 0x3f);
  }
  const tooLong = (length === 3 && codePoint < 0x800) || (length === 4 && codePoint < 0x10000);
  const surrogate = codePoint >= 0xd800 && codePoint < 0xe000;
  return tooLong || surrogate || codePoint > 0x10ffff ? REPLACEMENT : [codePoint, length];
}

/** Bytes as UTF-16, most significant byte first unless `little`; an odd last byte is left out, a lone surrogate becomes U+FFFD. */
export function utf16(bytes: Uint8Array, little = false): string {
  let text = '';
  for (let at = 0; at + 2 <= bytes.length; at += 2) text += String.fromCharCode(u16(bytes, at, little));
  return text.replace(/\p{Surrogate}/gu, '\ufffd');
}

/** A text field of fixed length: up to the first NUL, trimmed; "" when it is all FF (undefined) or blank. UTF-8, else ISO 8859-1. */
export function fixedText(bytes: Uint8Array, at: number, length: number): string {
  const field = slice(bytes, at, length);
  if (field.every((byte) => byte === 0xff)) return '';
  const nul = field.indexOf(0);
  return plainText(nul === -1 ? field : field.subarray(0, nul));
}

/** Text of unstated encoding: UTF-8 when it is that, else ISO 8859-1; NULs at the end and blanks around it fall away. */
export function plainText(bytes: Uint8Array): string {
  const text = utf8(bytes);
  return withoutNuls(text.includes('\ufffd') ? latin1(bytes) : text).trim();
}

/** Counted from the end: an expression would begin anew at each of a million NULs in the midst. */
function withoutNuls(text: string): string {
  let end = text.length;
  while (end > 0 && text.charAt(end - 1) === '\0') end -= 1;
  return text.slice(0, end);
}
