import type { Reader } from './byte-source.ts';
import { i32, u32, u64 } from './bytes.ts';
import type { Box } from './mov-boxes.ts';
import { childrenOf, contentOf } from './mov-boxes.ts';

/** More fragments than this are not counted: at one a second they are over an hour. */
const MAX_FRAGMENTS = 5000;
/** A track that has not begun by then is not looked for. */
const FRAGMENTS_SEARCHED = 4;

/** What the fragments of a movie hold for one track. */
export interface FragmentCount {
  readonly samples: number;
  readonly totalTicks: number;
  readonly shortestTicks: number;
  readonly longestTicks: number;
}

/**
 * Pictures of one track in all `moof` boxes (ISO/IEC 14496-12, 8.8), or undefined when there are too many fragments to count.
 * `defaultTicks` is the length the `trex` box gives a picture whose fragment states none. @throws {MalformedError}
 */
export async function countFragments(reader: Reader, fragments: readonly Box[], trackId: number, defaultTicks: number): Promise<FragmentCount | undefined> {
  if (fragments.length > MAX_FRAGMENTS) return undefined;
  const count = { samples: 0, totalTicks: 0, shortestTicks: Infinity, longestTicks: 0 };
  for (const fragment of fragments) {
    for (const track of (await childrenOf(reader, fragment)).filter((box) => box.type === 'traf')) {
      await addTrackFragment(reader, track, trackId, defaultTicks, count);
    }
  }
  return count;
}

interface Tally {
  samples: number;
  totalTicks: number;
  shortestTicks: number;
  longestTicks: number;
}

async function addTrackFragment(reader: Reader, fragment: Box, trackId: number, defaultTicks: number, tally: Tally): Promise<void> {
  const boxes = await childrenOf(reader, fragment);
  const header = boxes.find((box) => box.type === 'tfhd');
  if (header === undefined) return;
  const { id, ticks } = readFragmentHeader(await contentOf(reader, header, 64), defaultTicks, fragment.start, false);
  if (id !== trackId) return;
  for (const run of boxes.filter((box) => box.type === 'trun')) addRun(await contentOf(reader, run, 1024 * 1024), ticks, tally);
}

interface FragmentHeader {
  readonly id: number;
  readonly ticks: number;
  /** Where data offsets count from; undefined when it is the end of the data before. */
  readonly base: number | undefined;
}

/** Flags of `tfhd`: 1 base offset (8 bytes), 2 description index (4), 8 default length (4), 0x20000 offsets count from the `moof` box. */
function readFragmentHeader(bytes: Uint8Array, defaultTicks: number, moof: number, first: boolean): FragmentHeader {
  const flags = u32(bytes, 0);
  const at = 8 + ((flags & 1) !== 0 ? 8 : 0) + ((flags & 2) !== 0 ? 4 : 0);
  return {
    id: u32(bytes, 4),
    ticks: (flags & 8) !== 0 ? u32(bytes, at) : defaultTicks,
    base: (flags & 1) !== 0 ? u64(bytes, 8) : (flags & 0x20000) !== 0 || first ? moof : undefined,
  };
}

/** Where the first sample of a track stands when it is kept in fragments, or undefined. @throws {MalformedError} */
export async function firstFragmentedByte(reader: Reader, fragments: readonly Box[], trackId: number): Promise<number | undefined> {
  for (const fragment of fragments.slice(0, FRAGMENTS_SEARCHED)) {
    const tracks = (await childrenOf(reader, fragment)).filter((box) => box.type === 'traf');
    for (const [index, track] of tracks.entries()) {
      const boxes = await childrenOf(reader, track);
      const header = boxes.find((box) => box.type === 'tfhd');
      const run = boxes.find((box) => box.type === 'trun');
      if (header === undefined || run === undefined) continue;
      const { id, base } = readFragmentHeader(await contentOf(reader, header, 64), 0, fragment.start, index === 0);
      const bytes = await contentOf(reader, run, 12);
      if (id !== trackId || base === undefined || (u32(bytes, 0) & 1) === 0) continue;
      return base + i32(bytes, 8);
    }
  }
  return undefined;
}

/** Flags of `trun`: 1 data offset, 4 first flags; then per sample 0x100 length, 0x200 size, 0x400 flags, 0x800 offset. */
function addRun(bytes: Uint8Array, defaultTicks: number, tally: Tally): void {
  const flags = u32(bytes, 0);
  const width = 4 * [0x100, 0x200, 0x400, 0x800].filter((flag) => (flags & flag) !== 0).length;
  const first = 8 + ((flags & 1) !== 0 ? 4 : 0) + ((flags & 4) !== 0 ? 4 : 0);
  const room = width === 0 ? 1_000_000 : Math.floor((bytes.length - first) / width);
  const samples = Math.max(0, Math.min(u32(bytes, 4), room));
  tally.samples += samples;
  for (let index = 0; index < samples; index++) {
    const ticks = (flags & 0x100) !== 0 ? u32(bytes, first + index * width) : defaultTicks;
    tally.totalTicks += ticks;
    tally.shortestTicks = Math.min(tally.shortestTicks, ticks);
    tally.longestTicks = Math.max(tally.longestTicks, ticks);
  }
}

/** Picture lengths by track id from the `mvex` box. @throws {MalformedError} */
export async function defaultTicks(reader: Reader, extends_: Box, trackId: number): Promise<number> {
  for (const box of (await childrenOf(reader, extends_)).filter((child) => child.type === 'trex')) {
    const bytes = await contentOf(reader, box, 24);
    if (u32(bytes, 4) === trackId) return u32(bytes, 12);
  }
  return 0;
}
