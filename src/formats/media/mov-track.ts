import type { Reader } from './byte-source.ts';
import type { Raster } from '../../core/material/statement.ts';
import { i32, u16, u32, u64, u8 } from './bytes.ts';
import type { Box } from './mov-boxes.ts';
import { childrenOf, contentOf, findBox } from './mov-boxes.ts';
import { latin1 } from './text.ts';

/** What a track's headers say; its sample tables are read on demand. */
export interface Track {
  readonly id: number;
  /** `vide`, `soun`, `tmcd`, `meta` … */
  readonly handler: string;
  /** Ticks a second of this track's own clock. */
  readonly timescale: number;
  readonly durationTicks: number;
  readonly rotationDeg: number;
  readonly edits: readonly Edit[];
  /** Ids of the timecode tracks this track refers to. */
  readonly timecodeTracks: readonly number[];
  readonly sampleTable: Box;
  /** First sample description: its four-character code, its bytes from the size field on, and where they stand. */
  readonly entry: SampleEntry | undefined;
}

/** The first sample description of a track. `bytes` are cut at 8 KiB. */
export interface SampleEntry {
  readonly format: string;
  readonly bytes: Uint8Array;
}

/** One entry of an edit list: `durationTicks` in the movie's clock, `mediaTime` in the track's, or -1 for a gap. */
export interface Edit {
  readonly durationTicks: number;
  readonly mediaTime: number;
}

const MAX_EDITS = 4096;
const ENTRY_BYTES = 8 * 1024;

/** One `trak` box. Undefined when it has no media that can be read. @throws {MalformedError} */
export async function readTrack(reader: Reader, trak: Box): Promise<Track | undefined> {
  const boxes = await childrenOf(reader, trak);
  const header = boxes.find((box) => box.type === 'tkhd');
  const media = boxes.find((box) => box.type === 'mdia');
  if (header === undefined || media === undefined) return undefined;
  const mediaHeader = await findBox(reader, media, ['mdhd']);
  const sampleTable = await findBox(reader, media, ['minf', 'stbl']);
  if (mediaHeader === undefined || sampleTable === undefined) return undefined;
  const editList = await findBox(reader, trak, ['edts', 'elst']);
  const timecodeReference = await findBox(reader, trak, ['tref', 'tmcd']);
  const description = await findBox(reader, sampleTable, ['stsd']);
  return {
    ...readTrackHeader(await contentOf(reader, header)),
    handler: await readHandler(reader, media),
    ...readMediaHeader(await contentOf(reader, mediaHeader)),
    edits: editList === undefined ? [] : readEdits(await contentOf(reader, editList, 8 + 20 * MAX_EDITS)),
    timecodeTracks: timecodeReference === undefined ? [] : readIds(await contentOf(reader, timecodeReference, 64)),
    sampleTable,
    entry: description === undefined ? undefined : readEntry(await contentOf(reader, description, 8 + ENTRY_BYTES)),
  };
}

async function readHandler(reader: Reader, media: Box): Promise<string> {
  const box = await findBox(reader, media, ['hdlr']);
  return box === undefined ? '' : latin1((await contentOf(reader, box, 12)).subarray(8, 12));
}

/** Track id and rotation. The matrix holds a b u c d v x y w; a and b as 16.16 are the cosine and sine of the turn. */
function readTrackHeader(bytes: Uint8Array): { id: number; rotationDeg: number } {
  const long = u8(bytes, 0) === 1;
  const matrix = long ? 52 : 40;
  const turn = Math.round((Math.atan2(i32(bytes, matrix + 4), i32(bytes, matrix)) * 180) / Math.PI);
  return { id: u32(bytes, long ? 20 : 12), rotationDeg: (turn + 360) % 360 };
}

function readMediaHeader(bytes: Uint8Array): { timescale: number; durationTicks: number } {
  return u8(bytes, 0) === 1
    ? { timescale: u32(bytes, 20), durationTicks: ticks64(bytes, 24) }
    : { timescale: u32(bytes, 12), durationTicks: u32(bytes, 16) };
}

/** A 64-bit duration; all ones means "unknown" and is given as 0. */
function ticks64(bytes: Uint8Array, at: number): number {
  return u32(bytes, at) === 0xffffffff ? 0 : u64(bytes, at);
}

function readEdits(bytes: Uint8Array): Edit[] {
  const long = u8(bytes, 0) === 1;
  const width = long ? 20 : 12;
  const count = Math.min(u32(bytes, 4), Math.floor((bytes.length - 8) / width));
  return Array.from({ length: count }, (_, index) => {
    const at = 8 + index * width;
    if (!long) return { durationTicks: u32(bytes, at), mediaTime: i32(bytes, at + 4) };
    const gap = u32(bytes, at + 8) === 0xffffffff;
    return { durationTicks: ticks64(bytes, at), mediaTime: gap ? -1 : u64(bytes, at + 8) };
  });
}

function readIds(bytes: Uint8Array): number[] {
  return Array.from({ length: Math.floor(bytes.length / 4) }, (_, index) => u32(bytes, index * 4));
}

function readEntry(bytes: Uint8Array): SampleEntry | undefined {
  if (u32(bytes, 4) === 0) return undefined;
  const size = Math.min(u32(bytes, 8), bytes.length - 8);
  return { format: latin1(bytes.subarray(12, 16)), bytes: bytes.subarray(8, 8 + size) };
}

/** Coded width and height of a video sample description. */
export function rasterOf(entry: SampleEntry): Raster | undefined {
  const raster = { width: u16(entry.bytes, 32), height: u16(entry.bytes, 34) };
  return raster.width > 0 && raster.height > 0 ? raster : undefined;
}
