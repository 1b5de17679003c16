import type { Reader } from './byte-source.ts';
import { i32, u32, u64 } from './bytes.ts';
import type { Box } from './mov-boxes.ts';
import { childrenOf } from './mov-boxes.ts';

/** How the pictures of a track follow each other. */
export interface SampleTiming {
  readonly samples: number;
  readonly totalTicks: number;
  /** Distinct sample lengths in ticks of all samples but the last, shortest first; the last one is often cut or padded. */
  readonly shortestTicks: number;
  readonly longestTicks: number;
  /** Presentation time of the first sample, in ticks: not 0 when pictures are stored out of order. */
  readonly firstShownTicks: number;
}

/** The tables of a track by box type. */
export type SampleTables = ReadonlyMap<string, Box>;

/** Entries of one table that are looked at; a camera writes one, an editor a few, a phone one a frame. */
const MAX_TIMING_ENTRIES = 500_000;
const BATCH_ENTRIES = 8192;

/** The sample tables in an `stbl` box. @throws {MalformedError} */
export async function sampleTables(reader: Reader, sampleTable: Box): Promise<SampleTables> {
  const tables = new Map<string, Box>();
  for (const box of await childrenOf(reader, sampleTable)) if (!tables.has(box.type)) tables.set(box.type, box);
  return tables;
}

/** Count and length of the samples, from `stts` and `ctts`. @throws {MalformedError} when a table is longer than its box. */
export async function readTiming(reader: Reader, tables: SampleTables): Promise<SampleTiming> {
  const timing = { samples: 0, totalTicks: 0, shortestTicks: Infinity, longestTicks: 0 };
  const table = tables.get('stts');
  const entries = table === undefined ? 0 : await countOf(reader, table, 4, 8);
  for (let from = 0; table !== undefined && from < Math.min(entries, MAX_TIMING_ENTRIES); from += BATCH_ENTRIES) {
    const batch = Math.min(BATCH_ENTRIES, entries - from);
    const bytes = await reader.look(table.body + 8 + from * 8, batch * 8);
    for (let index = 0; index < batch; index++) {
      addRun(timing, u32(bytes, index * 8), u32(bytes, index * 8 + 4), from + index === entries - 1);
    }
  }
  return { ...timing, firstShownTicks: await firstOffset(reader, tables) };
}

interface Tally {
  samples: number;
  totalTicks: number;
  shortestTicks: number;
  longestTicks: number;
}

function addRun(tally: Tally, samples: number, ticks: number, last: boolean): void {
  tally.samples += samples;
  tally.totalTicks += samples * ticks;
  const onlyTheLastSample = last && samples === 1 && tally.longestTicks > 0;
  if (samples === 0 || onlyTheLastSample) return;
  tally.shortestTicks = Math.min(tally.shortestTicks, ticks);
  tally.longestTicks = Math.max(tally.longestTicks, ticks);
}

async function firstOffset(reader: Reader, tables: SampleTables): Promise<number> {
  const table = tables.get('ctts');
  if (table === undefined || (await countOf(reader, table, 4, 8)) === 0) return 0;
  return i32(await reader.look(table.body + 8, 8), 4);
}

/**
 * Where the bytes of the last chunk end, or undefined when the track has no samples. Chunks are stored in order by every
 * writer we know, so the last chunk is the one that a cut-off copy loses. @throws {MalformedError}
 */
export async function lastByteOf(reader: Reader, tables: SampleTables): Promise<number | undefined> {
  const offset = await lastChunkOffset(reader, tables);
  if (offset === undefined) return undefined;
  const table = tables.get('stsc');
  const runs = table === undefined ? 0 : await countOf(reader, table, 4, 12);
  if (table === undefined || runs === 0) return offset;
  const inLastChunk = u32(await reader.peek(table.body + 8 + (runs - 1) * 12, 12), 4);
  return offset + (await bytesOfLast(reader, tables, inLastChunk));
}

/** Where the track's first sample stands, or undefined when it has none. @throws {MalformedError} */
export async function firstByteOf(reader: Reader, tables: SampleTables): Promise<number | undefined> {
  return chunkOffset(reader, tables, () => 0);
}

function lastChunkOffset(reader: Reader, tables: SampleTables): Promise<number | undefined> {
  return chunkOffset(reader, tables, (chunks) => chunks - 1);
}

async function chunkOffset(reader: Reader, tables: SampleTables, which: (chunks: number) => number): Promise<number | undefined> {
  const long = tables.get('co64');
  const table = long ?? tables.get('stco');
  if (table === undefined) return undefined;
  const width = long === undefined ? 4 : 8;
  const chunks = await countOf(reader, table, 4, width);
  if (chunks === 0) return undefined;
  const bytes = await reader.peek(table.body + 8 + which(chunks) * width, width);
  return long === undefined ? u32(bytes, 0) : u64(bytes, 0);
}

/** Bytes of the last `samples` samples; capped, since a chunk of sound may hold a hundred thousand. */
async function bytesOfLast(reader: Reader, tables: SampleTables, samples: number): Promise<number> {
  const table = tables.get('stsz');
  if (table === undefined || table.end - table.body < 12) return 0;
  const header = await reader.peek(table.body, 12);
  const uniform = u32(header, 4);
  const total = u32(header, 8);
  const last = Math.min(samples, total, BATCH_ENTRIES);
  if (uniform > 0) return uniform * Math.min(samples, total);
  const bytes = await reader.peek(table.body + 12 + (total - last) * 4, last * 4);
  let sum = 0;
  for (let index = 0; index < last; index++) sum += u32(bytes, index * 4);
  return sum;
}

/** Samples a track says it has, from the size table: it counts also where times are missing. @throws {MalformedError} */
export async function sampleCount(reader: Reader, tables: SampleTables): Promise<number> {
  const table = tables.get('stsz') ?? tables.get('stz2');
  return table === undefined || table.end - table.body < 12 ? 0 : u32(await reader.peek(table.body, 12), 8);
}

/** Entries of a table, never more than its box has room for. */
async function countOf(reader: Reader, table: Box, countAt: number, width: number): Promise<number> {
  if (table.end - table.body < countAt + 4) return 0;
  const stated = u32(await reader.look(table.body, countAt + 4), countAt);
  return Math.min(stated, Math.floor((Math.min(table.end, reader.size) - table.body - countAt - 4) / width));
}
