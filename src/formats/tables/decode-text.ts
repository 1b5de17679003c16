export type TextEncoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252';

/** Text from bytes, without byte order mark. `assumed` is true when nothing in the bytes proves the encoding. */
export interface DecodedText {
  readonly text: string;
  readonly encoding: TextEncoding;
  readonly assumed: boolean;
}

/**
 * Decodes a table or log: UTF-8 with or without byte order mark, UTF-16 of either byte order with a mark or told by its zero
 * bytes, else Windows-1252 (which holds Latin-1) by assumption. Never throws.
 */
export function decodeText(bytes: Uint8Array): DecodedText {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return { text: decodeUtf16(bytes.subarray(2), true), encoding: 'utf-16le', assumed: false };
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return { text: decodeUtf16(bytes.subarray(2), false), encoding: 'utf-16be', assumed: false };
  const marked = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
  const order = marked ? undefined : utf16Order(bytes);
  if (order !== undefined) return { text: decodeUtf16(bytes, order === 'utf-16le'), encoding: order, assumed: false };
  const text = decodeUtf8(marked ? bytes.subarray(3) : bytes);
  if (text !== undefined) return { text, encoding: 'utf-8', assumed: false };
  return { text: decodeWindows1252(marked ? bytes.subarray(3) : bytes), encoding: 'windows-1252', assumed: true };
}

/** Characters joined at once: String.fromCharCode takes its arguments on the stack. */
const CHUNK = 8192;

function join(units: Uint16Array, length: number): string {
  const parts: string[] = [];
  for (let start = 0; start < length; start += CHUNK) parts.push(Reflect.apply(String.fromCharCode, undefined, units.subarray(start, Math.min(length, start + CHUNK))));
  return parts.join('');
}

/** UTF-16 without a mark: text of Latin letters has a zero in every second byte. Looks at the first 512 bytes. */
function utf16Order(bytes: Uint8Array): 'utf-16le' | 'utf-16be' | undefined {
  const looked = Math.min(512, bytes.length - (bytes.length % 2));
  if (looked < 4) return undefined;
  let [evenZeros, oddZeros] = [0, 0];
  for (let at = 0; at < looked; at += 2) {
    if (bytes[at] === 0) evenZeros += 1;
    if (bytes[at + 1] === 0) oddZeros += 1;
  }
  const most = (looked / 2) * 0.7;
  if (oddZeros >= most && evenZeros === 0) return 'utf-16le';
  return evenZeros >= most && oddZeros === 0 ? 'utf-16be' : undefined;
}

function decodeUtf16(bytes: Uint8Array, littleEndian: boolean): string {
  const units = new Uint16Array(Math.floor(bytes.length / 2));
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  for (let at = 0; at < units.length; at += 1) units[at] = view.getUint16(2 * at, littleEndian);
  // Half a surrogate pair is no character.
  return join(units, units.length).replace(/[\uD800-\uDFFF]/gu, '\uFFFD');
}

/** Undefined when the bytes are not UTF-8: a stray byte, an overlong form, a surrogate (RFC 3629, section 4). */
function decodeUtf8(bytes: Uint8Array): string | undefined {
  const units = new Uint16Array(bytes.length);
  let length = 0;
  for (let at = 0; at < bytes.length; ) {
    const lead = bytes[at] ?? 0;
    if (lead < 0x80) {
      units[length++] = lead;
      at += 1;
      continue;
    }
    const size = lead >= 0xf0 ? 4 : lead >= 0xe0 ? 3 : 2;
    if (lead < 0xc2 || lead > 0xf4 || at + size > bytes.length) return undefined;
    let point = lead & (0xff >> (size + 1));
    for (let next = at + 1; next < at + size; next += 1) {
      const byte = bytes[next] ?? 0;
      if ((byte & 0xc0) !== 0x80) return undefined;
      point = (point << 6) | (byte & 0x3f);
    }
    const smallest = size === 4 ? 0x10000 : size === 3 ? 0x800 : 0x80;
    if (point < smallest || point > 0x10ffff || (point >= 0xd800 && point <= 0xdfff)) return undefined;
    if (point > 0xffff) {
      units[length++] = 0xd7c0 + (point >> 10);
      units[length++] = 0xdc00 + (point & 0x3ff);
    } else units[length++] = point;
    at += size;
  }
  return join(units, length);
}

/** What Windows-1252 has at 0x80 to 0x9F; the five places it leaves free stay control characters. */
const WINDOWS_1252 = '€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ';

function decodeWindows1252(bytes: Uint8Array): string {
  const units = new Uint16Array(bytes.length);
  for (const [at, byte] of bytes.entries()) units[at] = byte >= 0x80 && byte <= 0x9f ? WINDOWS_1252.charCodeAt(byte - 0x80) : byte;
  return join(units, units.length);
}
