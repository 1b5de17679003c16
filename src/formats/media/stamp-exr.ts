import { i32, MalformedError, u32, u64 } from './bytes.ts';
import type { PictureStamp } from './stamp-dpx.ts';
import { latin1 } from './text.ts';
import { timecodeWord } from './timecode-word.ts';

/** Where the parts of a single-part scanline picture lie: its attributes, the table of its chunks, and their number. */
interface Layout {
  readonly attributes: readonly { readonly name: string; readonly start: number; readonly end: number }[];
  readonly table: number;
  readonly chunks: number;
}

/** "OpenEXR File Layout": lines a chunk holds, by the number of the compression. */
const LINES: Readonly<Record<number, number>> = { 0: 1, 1: 1, 2: 1, 3: 16, 4: 32, 5: 16, 6: 32, 7: 32, 8: 32, 9: 256 };

/**
 * The same picture with `timeCode`, `framesPerSecond` and `reelName` in its header ("OpenEXR Standard Attributes"). Attributes
 * of these names that were there are replaced; chunks are the same bytes, their table counts the longer header. The
 * file is the header and the table, then the chunks.
 * @throws {MalformedError} when it is no single-part scanline picture.
 */
export function stampExr(picture: Uint8Array, stamp: PictureStamp): readonly [header: Uint8Array, chunks: Uint8Array] {
  const { attributes, table, chunks } = layoutOf(picture);
  const added = attributesOf(stamp);
  const replaced = new Set(added.map(({ name }) => name));
  const kept = attributes.filter(({ name }) => !replaced.has(name)).map(({ start, end }) => picture.subarray(start, end));
  const header = join([picture.subarray(0, 8), ...kept, ...added.map(({ bytes }) => bytes), new Uint8Array(1)]);
  const chunksAt = table + 8 * chunks;
  const stamped = join([header, picture.subarray(table, chunksAt)]);
  const longer = header.length - table;
  const view = new DataView(stamped.buffer);
  for (let at = header.length; at < stamped.length; at += 8) view.setBigUint64(at, view.getBigUint64(at, true) + BigInt(longer), true);
  return [stamped, picture.subarray(chunksAt)];
}

/**
 * How long the picture at the start of `bytes` is, for pictures that follow each other in a stream; undefined while that cannot
 * be told yet. @throws {MalformedError} as `stampExr`.
 */
export function exrLength(bytes: Uint8Array): number | undefined {
  let layout: Layout;
  try {
    layout = layoutOf(bytes);
  } catch (problem) {
    // A header that ends too soon goes on in the next piece, unless it is longer than any that was ever written.
    if (problem instanceof MalformedError && bytes.length < 65_536 && (bytes.length < 8 || u32(bytes, 0, true) === 0x01312f76)) return undefined;
    throw problem;
  }
  const { table, chunks } = layout;
  if (bytes.length < table + 8 * chunks) return undefined;
  let last = 0;
  for (let chunk = 0; chunk < chunks; chunk++) last = Math.max(last, u64(bytes, table + 8 * chunk, true));
  return bytes.length < last + 8 ? undefined : last + 8 + u32(bytes, last + 4, true);
}

function layoutOf(bytes: Uint8Array): Layout {
  if (u32(bytes, 0, true) !== 0x01312f76) throw new MalformedError('byte 0', 'other bytes', 'OpenEXR');
  const version = u32(bytes, 4, true);
  if ((version & ~0x400) !== 2) throw new MalformedError('byte 4', `version and flags ${version}`, 'a single part of scanlines');
  const attributes: { name: string; start: number; end: number }[] = [];
  let at = 8;
  while (bytes[at] !== 0) {
    const start = at;
    const name = textAt(bytes, at);
    const type = textAt(bytes, at + name.length + 1);
    const value = at + name.length + type.length + 6;
    const size = i32(bytes, value - 4, true);
    at = value + size;
    if (size < 0 || at >= bytes.length) throw new MalformedError(`byte ${start}`, `${size} bytes`, 'an attribute inside the file');
    attributes.push({ name, start, end: at });
  }
  return { attributes, table: at + 1, chunks: chunksOf(bytes, attributes) };
}

function chunksOf(bytes: Uint8Array, attributes: Layout['attributes']): number {
  const valueAt = (wanted: string, size: number): number => {
    const found = attributes.find(({ name }) => name === wanted);
    if (found === undefined) throw new MalformedError('header', `no ${wanted}`, `the attribute ${wanted}`);
    return found.end - size;
  };
  const lines = LINES[bytes[valueAt('compression', 1)] ?? 255];
  if (lines === undefined) throw new MalformedError('compression', 'an unknown number', 'a known compression');
  const window = valueAt('dataWindow', 16);
  return Math.ceil((i32(bytes, window + 12, true) - i32(bytes, window + 4, true) + 1) / lines);
}

function textAt(bytes: Uint8Array, at: number): string {
  const end = bytes.indexOf(0, at);
  if (end < 0 || end - at > 255) throw new MalformedError(`byte ${at}`, 'no end of a name', 'a name');
  return latin1(bytes.subarray(at, end));
}

function attributesOf({ timecode, rate, source }: PictureStamp): readonly { readonly name: string; readonly bytes: Uint8Array }[] {
  const stated: { name: string; bytes: Uint8Array }[] = [];
  if (timecode !== undefined) stated.push(attribute('timeCode', 'timecode', [timecodeWord(timecode.label, timecode.phase % 2 === 1), 0]));
  if (rate !== undefined) stated.push(attribute('framesPerSecond', 'rational', [rate.num, rate.den]));
  const letters = Uint8Array.from(source, (letter) => (letter.charCodeAt(0) > 126 ? 95 : letter.charCodeAt(0)));
  if (letters.length > 0) stated.push({ name: 'reelName', bytes: join([head('reelName', 'string', letters.length), letters]) });
  return stated;
}

/** An attribute of two 32-bit numbers. */
function attribute(name: string, type: string, words: readonly [number, number]): { readonly name: string; readonly bytes: Uint8Array } {
  const value = new Uint8Array(8);
  const view = new DataView(value.buffer);
  words.forEach((word, index) => view.setUint32(4 * index, word, true));
  return { name, bytes: join([head(name, type, 8), value]) };
}

function head(name: string, type: string, size: number): Uint8Array {
  const bytes = new Uint8Array(name.length + type.length + 6);
  bytes.set(Uint8Array.from(name, (letter) => letter.charCodeAt(0)));
  bytes.set(Uint8Array.from(type, (letter) => letter.charCodeAt(0)), name.length + 1);
  new DataView(bytes.buffer).setInt32(bytes.length - 4, size, true);
  return bytes;
}

function join(parts: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const whole = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
