import type { Reader } from './byte-source.ts';
import { i32, u32, u64 } from './bytes.ts';
import type { ExrAttribute, ExrHeader } from './exr-header.ts';
import type { Completeness } from './media-facts.ts';

const WHOLE: Completeness = { condition: 'whole', complete: true, why: 'every part of the picture stands inside the file' };
const MAX_TABLE_BYTES = 4 * 1024 * 1024;

/**
 * Whether all of the picture is there: behind the headers stand the offsets of its chunks; a writer that broke off leaves zeros, a
 * copy that broke off leaves offsets beyond the end ("OpenEXR File Layout", Offset Tables).
 */
export async function exrCompleteness(reader: Reader, header: ExrHeader): Promise<Completeness> {
  const counts = await Promise.all(header.parts.map((part) => chunksOf(reader, part, header)));
  if (counts.includes(undefined) || header.deep) return { condition: 'unverified', complete: null, why: 'the number of its chunks is not known, so nothing in it can tell' };
  const chunks = counts.reduce<number>((sum, count) => sum + (count ?? 0), 0);
  const end = header.end + chunks * 8;
  if (end > reader.size) return truncated(`its table of chunks should reach byte ${end}, the file ends at ${reader.size}`);
  if (chunks * 8 > MAX_TABLE_BYTES) return { condition: 'unverified', complete: null, why: `it has ${chunks} chunks, too many to look at` };
  const table = await reader.look(header.end, chunks * 8);
  let last = 0;
  for (let index = 0; index < chunks; index++) {
    const offset = u64(table, index * 8, true);
    if (offset === 0) return truncated('some of its picture was never written');
    last = Math.max(last, offset);
  }
  return chunks === 0 ? WHOLE : lastChunkFits(reader, last, header);
}

async function lastChunkFits(reader: Reader, offset: number, header: ExrHeader): Promise<Completeness> {
  // Before a chunk's bytes: part number when multi-part, then y or four tile coordinates, then the count.
  const countAt = offset + (header.multiPart ? 4 : 0) + (isTiled(header) ? 16 : 4);
  if (countAt + 4 > reader.size) return truncated(`its last part begins at byte ${offset}, the file ends at ${reader.size}`);
  const end = countAt + 4 + Math.max(0, i32(await reader.peek(countAt, 4), 0, true));
  return end > reader.size ? truncated(`its last part should reach byte ${end}, the file ends at ${reader.size}`) : WHOLE;
}

function truncated(why: string): Completeness {
  return { condition: 'truncated', complete: false, why };
}

/** In a multi-part file each part says it for itself; the last chunk's own part is not looked up, so any tiled part counts as tiled only when all are. */
function isTiled(header: ExrHeader): boolean {
  return header.multiPart ? header.parts.every((part) => part.has('tiles')) : header.tiled;
}

/** Lines a chunk holds, by compression: none, RLE, ZIPS, ZIP, PIZ, PXR24, B44, B44A, DWAA, DWAB. */
const LINES = [1, 1, 1, 16, 32, 16, 32, 32, 32, 256];

async function chunksOf(reader: Reader, part: ReadonlyMap<string, ExrAttribute>, header: ExrHeader): Promise<number | undefined> {
  const stated = part.get('chunkCount');
  if (stated?.type === 'int' && stated.size === 4) return Math.max(0, i32(await reader.peek(stated.at, 4), 0, true));
  const window = part.get('dataWindow');
  const compression = part.get('compression');
  if (window?.size !== 16 || compression?.size !== 1) return undefined;
  const box = await reader.peek(window.at, 16);
  const width = i32(box, 8, true) - i32(box, 0, true) + 1;
  const height = i32(box, 12, true) - i32(box, 4, true) + 1;
  if (width <= 0 || height <= 0) return undefined;
  if (header.tiled) return tileCount(reader, part.get('tiles'), width, height);
  const lines = LINES[(await reader.peek(compression.at, 1))[0] ?? 255];
  return lines === undefined ? undefined : Math.ceil(height / lines);
}

/** Tiles of a picture with one level; with mip maps the count is not worked out here. */
async function tileCount(reader: Reader, tiles: ExrAttribute | undefined, width: number, height: number): Promise<number | undefined> {
  if (tiles?.size !== 9) return undefined;
  const bytes = await reader.peek(tiles.at, 9);
  const across = u32(bytes, 0, true);
  const down = u32(bytes, 4, true);
  const oneLevel = ((bytes[8] ?? 0) & 0x0f) === 0;
  return oneLevel && across > 0 && down > 0 ? Math.ceil(width / across) * Math.ceil(height / down) : undefined;
}
