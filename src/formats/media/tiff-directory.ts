import type { Reader } from './byte-source.ts';
import { i32, MalformedError, u16, u32, u64, u8 } from './bytes.ts';

/** One entry of an image file directory; `at` is where its values stand, in the entry itself when they fit. */
export interface TiffEntry {
  readonly tag: number;
  readonly type: number;
  readonly count: number;
  readonly at: number;
}

/** The first directory of a TIFF, with what is needed to read its values. */
export interface TiffDirectory {
  readonly little: boolean;
  readonly entries: ReadonlyMap<number, TiffEntry>;
}

/** Bytes of one value by type (TIFF 6.0; 13 is a directory; 16 to 18 are BigTIFF's 64-bit types). */
const WIDTHS: Readonly<Record<number, number>> = { 1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 6: 1, 7: 1, 8: 2, 9: 4, 10: 8, 11: 4, 12: 8, 13: 4, 16: 8, 17: 8, 18: 8 };
const MAX_ENTRIES = 4096;

/** Byte order and kind of a TIFF by its first bytes, or undefined when it is none. */
export function tiffKind(start: Uint8Array): { readonly little: boolean; readonly big: boolean } | undefined {
  const order = u16(start, 0);
  if (order !== 0x4949 && order !== 0x4d4d) return undefined;
  const little = order === 0x4949;
  const version = u16(start, 2, little);
  return version === 42 || version === 43 ? { little, big: version === 43 } : undefined;
}

/** Where the first directory stands. */
export async function firstDirectoryAt(reader: Reader, { little, big }: { readonly little: boolean; readonly big: boolean }): Promise<number> {
  return big ? u64(await reader.look(8, 8), 0, little) : u32(await reader.look(4, 4), 0, little);
}

/** Reads the directory at an offset. @throws {MalformedError} when it does not lie in the file. */
export async function readDirectory(reader: Reader, offset: number, kind: { readonly little: boolean; readonly big: boolean }): Promise<TiffDirectory> {
  const { little, big } = kind;
  const count = big ? u64(await reader.look(offset, 8), 0, little) : u16(await reader.look(offset, 2), 0, little);
  if (count > MAX_ENTRIES) throw new MalformedError(`directory at byte ${offset}`, `${count} entries`, `at most ${MAX_ENTRIES}`);
  const width = big ? 20 : 12;
  const first = offset + (big ? 8 : 2);
  const bytes = await reader.look(first, count * width);
  const entries = new Map<number, TiffEntry>();
  for (let index = 0; index < count; index++) {
    const at = index * width;
    const type = u16(bytes, at + 2, little);
    const values = big ? u64(bytes, at + 4, little) : u32(bytes, at + 4, little);
    const room = big ? 8 : 4;
    const inside = first + at + (big ? 12 : 8);
    const value = values * (WIDTHS[type] ?? 1) <= room ? inside : big ? u64(bytes, at + 12, little) : u32(bytes, at + 8, little);
    const tag = u16(bytes, at, little);
    if (!entries.has(tag)) entries.set(tag, { tag, type, count: values, at: value });
  }
  return { little, entries };
}

/** Up to `most` bytes of an entry's values. Undefined when the entry is absent. @throws {MalformedError} beyond the file. */
export async function entryBytes(reader: Reader, directory: TiffDirectory, tag: number, most = 8192): Promise<Uint8Array | undefined> {
  const entry = directory.entries.get(tag);
  const width = entry === undefined ? undefined : WIDTHS[entry.type];
  if (entry === undefined || width === undefined) return undefined;
  return reader.peek(entry.at, Math.min(entry.count * width, most));
}

/** Whole numbers of an entry, at most `most`; empty when it is absent or of another type. */
export async function entryNumbers(reader: Reader, directory: TiffDirectory, tag: number, most = 65_536): Promise<number[]> {
  const entry = directory.entries.get(tag);
  const width = entry === undefined ? 0 : (WIDTHS[entry.type] ?? 0);
  const read = NUMBERS[entry?.type ?? 0];
  if (entry === undefined || read === undefined) return [];
  const bytes = await reader.peek(entry.at, Math.min(entry.count, most) * width);
  return Array.from({ length: Math.floor(bytes.length / width) }, (_, index) => read(bytes, index * width, directory.little));
}

const NUMBERS: Readonly<Record<number, (bytes: Uint8Array, at: number, little: boolean) => number>> = {
  1: (bytes, at) => u8(bytes, at),
  3: u16,
  4: u32,
  9: i32,
  13: u32,
  16: u64,
  18: u64,
};
