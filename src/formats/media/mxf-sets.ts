import type { Reader } from './byte-source.ts';
import { hex, i64, slice, u16, u32, u8 } from './bytes.ts';
import type { FrameRate } from '../../core/timecode/rate.ts';
import { frameRate } from '../../core/timecode/rate.ts';
import { isFill, klvAt } from './mxf-klv.ts';
import { utf16 } from './text.ts';

/** One set of header metadata: its kind (byte 15 of its key, hex) and its items by local tag. */
export interface MetadataSet {
  readonly key: string;
  readonly kind: string;
  readonly items: ReadonlyMap<number, Uint8Array>;
}

/** Header metadata: sets by instance id, in file order, and the primer's meaning of tags from 0x8000 up. */
export interface HeaderMetadata {
  readonly sets: ReadonlyMap<string, MetadataSet>;
  readonly primer: ReadonlyMap<number, string>;
}

const STRUCTURAL = '060e2b34025301010d01010101';
const PRIMER = '060e2b34020501010d01020101050100';
const INSTANCE_ID = 0x3c0a;
const MAX_SETS = 20_000;
const PRELOAD_BYTES = 1024 * 1024;
const MAX_SET_BYTES = 64 * 1024;
/** Far more tracks or components than a clip has; only the first of each are looked for. */
const MAX_REFERENCES = 256;

/** Reads the sets from a partition pack's end on, over at most `length` bytes. @throws {MalformedError} */
export async function readHeaderMetadata(reader: Reader, start: number, length: number): Promise<HeaderMetadata> {
  const sets = new Map<string, MetadataSet>();
  const primer = new Map<number, string>();
  await reader.preload(start, Math.min(length + 8 * 1024, PRELOAD_BYTES));
  let end = Math.min(start + length, reader.size);
  let at = start;
  for (let packets = 0; packets < MAX_SETS && at < end; packets++) {
    const klv = await klvAt(reader, at);
    if (klv === undefined || klv.end > reader.size) break;
    // The count of header bytes starts at the primer, behind the filler that follows the partition pack.
    if (klv.key === PRIMER) end = Math.min(at + length, reader.size);
    if (!isFill(klv.key)) {
      const bytes = await reader.look(klv.value, Math.min(klv.end - klv.value, MAX_SET_BYTES));
      if (klv.key === PRIMER) readPrimer(bytes, primer);
      else if (klv.key.slice(8, 12) === '0253') addSet(klv.key, bytes, sets);
    }
    at = klv.end;
  }
  return { sets, primer };
}

function readPrimer(bytes: Uint8Array, primer: Map<number, string>): void {
  const count = Math.min(u32(bytes, 0), Math.floor((bytes.length - 8) / 18));
  for (let index = 0; index < count; index++) primer.set(u16(bytes, 8 + index * 18), hex(slice(bytes, 10 + index * 18, 16)));
}

function addSet(key: string, bytes: Uint8Array, sets: Map<string, MetadataSet>): void {
  const items = new Map<number, Uint8Array>();
  for (let at = 0; at + 4 <= bytes.length; ) {
    const length = u16(bytes, at + 2);
    if (at + 4 + length > bytes.length) break;
    items.set(u16(bytes, at), bytes.subarray(at + 4, at + 4 + length));
    at += 4 + length;
  }
  const id = items.get(INSTANCE_ID);
  // A set that names itself twice is a copy; the first stands.
  const name = id === undefined ? `unnamed ${sets.size}` : hex(id);
  if (!sets.has(name)) sets.set(name, { key, kind: key.startsWith(STRUCTURAL) ? key.slice(28, 30) : '', items });
}

/** Sets of one kind, in file order. */
export function setsOf({ sets }: HeaderMetadata, ...kinds: string[]): MetadataSet[] {
  return [...sets.values()].filter((set) => kinds.includes(set.kind));
}

/** The set an item refers to. */
export function referred({ sets }: HeaderMetadata, set: MetadataSet, tag: number): MetadataSet | undefined {
  const id = set.items.get(tag);
  return id?.length === 16 ? sets.get(hex(id)) : undefined;
}

/** The sets a batch or array of references names: count, size of one, ids. */
export function referredAll({ sets }: HeaderMetadata, set: MetadataSet, tag: number): MetadataSet[] {
  const batch = set.items.get(tag);
  if (batch === undefined || batch.length < 8) return [];
  const count = Math.min(u32(batch, 0), Math.floor((batch.length - 8) / 16), MAX_REFERENCES);
  const all = Array.from({ length: count }, (_, index) => sets.get(hex(batch.subarray(8 + index * 16, 24 + index * 16))));
  return all.filter((found) => found !== undefined);
}

/** A whole number of 1, 2, 4 or 8 bytes; undefined when absent, of another size, or -1 in 8 bytes ("not known"). */
export function numberItem(set: MetadataSet, tag: number): number | undefined {
  const bytes = set.items.get(tag);
  if (bytes === undefined) return undefined;
  if (bytes.length === 8) return exactOrUnknown(bytes);
  if (bytes.length === 4) return u32(bytes, 0);
  if (bytes.length === 2) return u16(bytes, 0);
  return bytes.length === 1 ? u8(bytes, 0) : undefined;
}

function exactOrUnknown(bytes: Uint8Array): number | undefined {
  if (u32(bytes, 0) === 0xffffffff || u32(bytes, 0) > 0x1fffff) return undefined;
  return i64(bytes, 0);
}

/** A rate item: numerator and denominator; undefined when absent or not above 0. */
export function rateItem(set: MetadataSet, tag: number): FrameRate | undefined {
  const bytes = set.items.get(tag);
  if (bytes?.length !== 8) return undefined;
  const num = u32(bytes, 0);
  const den = u32(bytes, 4);
  return num > 0 && den > 0 && num < 0x8000_0000 && den < 0x8000_0000 ? frameRate(num, den) : undefined;
}

/** A UTF-16 text item, cut at its NUL; undefined when absent or blank. */
export function textItem(set: MetadataSet, tag: number): string | undefined {
  const bytes = set.items.get(tag);
  const text = bytes === undefined ? '' : (utf16(bytes).split('\0')[0] ?? '').trim();
  return text === '' ? undefined : text;
}

/** A label or id item as hex; undefined when absent. */
export function labelItem(set: MetadataSet, tag: number): string | undefined {
  const bytes = set.items.get(tag);
  return bytes === undefined ? undefined : hex(bytes);
}
