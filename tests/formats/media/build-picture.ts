import { deflateSync } from 'node:zlib';
import { be16, be32, beFloat, bytes, fromHex, le16, le32, le64, leFloat, patched, zeros } from './build.ts';

/** One OpenEXR attribute: name, type, size, value. */
export function attribute(name: string, type: string, value: Uint8Array): Uint8Array {
  return bytes(name, 0, type, 0, le32(value.length), value);
}

export const exrText = (name: string, text: string): Uint8Array => attribute(name, 'string', bytes(text));
export const exrFloat = (name: string, value: number): Uint8Array => attribute(name, 'float', leFloat(value));
export const exrInt = (name: string, value: number): Uint8Array => attribute(name, 'int', le32(value));
export const exrRational = (name: string, num: number, den: number): Uint8Array => attribute(name, 'rational', bytes(le32(num), le32(den)));
export const exrTimecode = (word: number): Uint8Array => attribute('timeCode', 'timecode', bytes(le32(word), le32(0)));

const WINDOW = (width: number, height: number): Uint8Array => bytes(le32(0), le32(0), le32(width - 1), le32(height - 1));

/** The attributes every part must have; one half-float channel, no compression. */
export function requiredAttributes(width: number, height: number): Uint8Array {
  const channel = bytes('Y', 0, le32(1), 0, 0, 0, 0, le32(1), le32(1), 0);
  return bytes(
    attribute('channels', 'chlist', channel),
    attribute('compression', 'compression', bytes(0)),
    attribute('dataWindow', 'box2i', WINDOW(width, height)),
    attribute('displayWindow', 'box2i', WINDOW(width, height)),
    attribute('lineOrder', 'lineOrder', bytes(0)),
    exrFloat('pixelAspectRatio', 1),
    attribute('screenWindowCenter', 'v2f', zeros(8)),
    exrFloat('screenWindowWidth', 1),
  );
}

/** A whole uncompressed OpenEXR picture of one part with the attributes given. */
export function exr(attributes: readonly Uint8Array[] = [], [width, height]: readonly [number, number] = [16, 8]): Uint8Array {
  const header = bytes(fromHex('762f3101'), le32(2), requiredAttributes(width, height), ...attributes, 0);
  const line = 8 + width * 2;
  const first = header.length + height * 8;
  const rows = Array.from({ length: height }, (_, y) => y);
  return bytes(header, ...rows.map((y) => le64(first + y * line)), ...rows.map((y) => bytes(le32(y), le32(width * 2), zeros(width * 2))));
}

/** A multi-part picture: each part's attributes, one line of pixels each. */
export function multiPartExr(parts: readonly (readonly Uint8Array[])[]): Uint8Array {
  const headers = parts.map((attributes, index) => bytes(requiredAttributes(16, 1), exrText('name', `part${index}`), exrText('type', 'scanlineimage'), exrInt('chunkCount', 1), ...attributes, 0));
  const header = bytes(fromHex('762f3101'), le32(0x1002), ...headers, 0);
  const chunk = 12 + 32;
  const first = header.length + parts.length * 8;
  return bytes(header, ...parts.map((_, index) => le64(first + index * chunk)), ...parts.map((_, index) => bytes(le32(index), le32(0), le32(32), zeros(32))));
}

export interface DpxToBuild {
  readonly little?: boolean;
  /** Offset of the picture: 1664 leaves the film and television headers out. */
  readonly offset?: number;
  readonly size?: readonly [width: number, height: number];
  readonly statedSize?: number;
  readonly texts?: Readonly<Record<number, string>>;
  readonly words?: Readonly<Record<number, number>>;
  readonly floats?: Readonly<Record<number, number>>;
}

/** A 10-bit RGB picture with a header laid out as ST 268-1 says: what is not given is undefined (all ones). */
export function dpx({ little = false, offset = 2048, size = [16, 8], statedSize, texts = {}, words = {}, floats = {} }: DpxToBuild = {}): Uint8Array {
  const word = little ? le32 : be32;
  const half = little ? le16 : be16;
  const total = offset + size[0] * size[1] * 4;
  let header: Uint8Array = new Uint8Array(2048).fill(0xff);
  for (const [at, length] of [[36, 100], [136, 24], [160, 100], [260, 200], [460, 200], [1432, 100], [1532, 24], [1556, 32], [1588, 32], [1680, 32], [1732, 32], [1764, 100]] as const) header.fill(0, at, at + length);
  const put = (at: number, value: Uint8Array): void => {
    header = patched(header, at, value);
  };
  put(0, bytes(little ? 'XPDS' : 'SDPX', word(offset), 'V2.0', zeros(4), word(statedSize ?? total), word(1), word(1664), word(offset < 2048 ? 0 : 384)));
  put(768, bytes(half(0), half(1), word(size[0]), word(size[1])));
  put(800, bytes(50, 0, 0, 10, half(1), half(0), word(offset)));
  for (const [at, text] of Object.entries(texts)) put(Number(at), bytes(text, 0));
  for (const [at, value] of Object.entries(words)) put(Number(at), word(value));
  for (const [at, value] of Object.entries(floats)) put(Number(at), little ? leFloat(value) : beFloat(value));
  return bytes(header.subarray(0, Math.min(offset, 2048)), zeros(Math.max(0, offset - 2048)), new Uint8Array(size[0] * size[1] * 4).fill(0x31));
}

export interface TiffEntryToBuild {
  readonly tag: number;
  readonly type: number;
  readonly value: Uint8Array;
  readonly count: number;
}

export interface TiffToBuild {
  readonly little?: boolean;
  readonly big?: boolean;
  readonly entries?: readonly TiffEntryToBuild[];
  readonly size?: readonly [width: number, height: number];
}

/** A grey 8-bit picture of one strip, its directory at the end as most writers put it. */
export function tiff({ little = true, big = false, entries = [], size = [16, 8] }: TiffToBuild = {}): Uint8Array {
  const half = little ? le16 : be16;
  const word = little ? le32 : be32;
  const long = (value: number): Uint8Array => (little ? le64(value) : bytes(be32(0), be32(value)));
  const offset = big ? long : word;
  const pixels = zeros(size[0] * size[1]);
  const start = big ? 16 : 8;
  const directoryAt = start + pixels.length;
  const one = (tag: number, value: number): TiffEntryToBuild => ({ tag, type: 4, value: word(value), count: 1 });
  const all = [one(256, size[0]), one(257, size[1]), one(258, 8), one(259, 1), one(262, 1), one(273, start), one(278, size[1]), one(279, pixels.length), ...entries].toSorted((a, b) => a.tag - b.tag);
  const width = big ? 20 : 12;
  const room = big ? 8 : 4;
  const outsideAt = directoryAt + (big ? 8 : 2) + all.length * width + (big ? 8 : 4);
  const outside: Uint8Array[] = [];
  let used = 0;
  const rows = all.map(({ tag, type, value, count }) => {
    const inside = value.length <= room;
    const row = bytes(half(tag), half(type), offset(count), inside ? bytes(value, zeros(room - value.length)) : offset(outsideAt + used));
    if (!inside) {
      outside.push(value);
      used += value.length;
    }
    return row;
  });
  const head = big ? bytes(half(43), half(8), half(0), long(directoryAt)) : bytes(half(42), word(directoryAt));
  return bytes(little ? 'II' : 'MM', head, pixels, big ? long(all.length) : half(all.length), ...rows, zeros(big ? 8 : 4), ...outside);
}

/** A text entry of a TIFF. */
export function tiffText(tag: number, text: string): TiffEntryToBuild {
  return { tag, type: 2, value: bytes(text, 0), count: text.length + 1 };
}

function chunk(type: string, content: Uint8Array): Uint8Array {
  return bytes(be32(content.length), type, content, be32(checksum(bytes(type, content))));
}

/** The CRC every PNG chunk ends with (PNG, annex D). */
function checksum(content: Uint8Array): number {
  let sum = 0xffff_ffff;
  for (const byte of content) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit++) sum = (sum >>> 1) ^ ((sum & 1) === 1 ? 0xedb8_8320 : 0);
  }
  return ~sum >>> 0;
}

/** A grey 8-bit PNG with the chunks given before its picture. */
export function png(chunks: readonly (readonly [type: string, content: Uint8Array])[] = [], [width, height]: readonly [number, number] = [16, 8]): Uint8Array {
  const header = bytes(be32(width), be32(height), 8, 0, 0, 0, 0);
  const picture = deflateSync(zeros((width + 1) * height));
  return bytes(fromHex('89504e470d0a1a0a'), chunk('IHDR', header), ...chunks.map(([type, content]) => chunk(type, content)), chunk('IDAT', picture), chunk('IEND', zeros(0)));
}
