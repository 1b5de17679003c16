import { hasDropFrame, frameRate, nominalBase } from '../../core/timecode/rate.ts';
import type { FrameRate } from '../../core/timecode/rate.ts';
import type { Timecode } from '../../core/timecode/timecode.ts';
import { framesPerDay } from '../../core/timecode/timecode.ts';
import type { Reader } from './byte-source.ts';
import { i32, MalformedError, slice, u16, u32, u64, u8 } from './bytes.ts';
import type { FoundProblem } from './media-facts.ts';
import { doubtful } from './media-facts.ts';
import type { Box } from './mov-boxes.ts';
import { shownSamples } from './mov-edits.ts';
import { firstFragmentedByte } from './mov-fragments.ts';
import { firstByteOf, readTiming, sampleCount, sampleTables } from './mov-samples.ts';
import type { SampleEntry, Track } from './mov-track.ts';
import { latin1, plainText, utf16 } from './text.ts';

/** What a timecode track says. `timecode` is that of the first picture shown. */
export interface TimecodeTrack {
  readonly timecode: Timecode | undefined;
  readonly rate: FrameRate | undefined;
  readonly reel: string | undefined;
  readonly problems: readonly FoundProblem[];
}

const PLACE = 'tmcd track';

/** Reads a `tmcd` track (QuickTime File Format, "Timecode Sample Description"). @throws {MalformedError} */
export async function readTimecodeTrack(reader: Reader, track: Track, movieTimescale: number, fragments: readonly Box[]): Promise<TimecodeTrack> {
  if (track.entry === undefined) throw new MalformedError(PLACE, 'no sample description', 'one');
  const description = describe(track.entry);
  const nothing = { timecode: undefined, rate: description.rate, reel: description.reel };
  if (description.counter) return { ...nothing, problems: [doubtful(PLACE, 'a plain counter', 'timecode')] };
  const tables = await sampleTables(reader, track.sampleTable);
  const at = (await firstByteOf(reader, tables)) ?? (await firstFragmentedByte(reader, fragments, track.id));
  if (at === undefined) return { ...nothing, problems: [doubtful(PLACE, 'no sample', 'the timecode of the first frame')] };
  const stored = track.entry.format === 'tc64' ? u64(await reader.peek(at, 8), 0) : i32(await reader.peek(at, 4), 0);
  const shift = await trimmedFrames(reader, track, movieTimescale, description.frameTicks);
  const problems: FoundProblem[] = [];
  const samples = await sampleCount(reader, tables);
  if (samples > 1) problems.push(doubtful(PLACE, `${samples} stretches of timecode`, 'one that runs through the clip'));
  return { ...nothing, ...labelled(stored + shift, description, problems), problems };
}

interface Description {
  readonly drop: boolean;
  readonly counter: boolean;
  readonly base: number;
  readonly rate: FrameRate | undefined;
  readonly frameTicks: number;
  readonly reel: string | undefined;
}

/** Offsets from the size field: flags 20, time scale 24, frame duration 28, frames a second 32, then boxes from 34. */
function describe(entry: SampleEntry): Description {
  const { bytes } = entry;
  const flags = u32(bytes, 20);
  const timescale = u32(bytes, 24);
  const frameTicks = u32(bytes, 28);
  const rate = timescale > 0 && frameTicks > 0 ? frameRate(timescale, frameTicks) : undefined;
  const counted = u8(bytes, 32);
  return {
    drop: (flags & 1) !== 0,
    counter: (flags & 8) !== 0,
    base: counted > 0 ? counted : rate === undefined ? 0 : nominalBase(rate),
    rate,
    frameTicks,
    reel: reelName(bytes),
  };
}

/** The reel: a `name` box behind the description, holding length, language and text. */
function reelName(bytes: Uint8Array): string | undefined {
  for (let at = 34; at + 12 <= bytes.length; ) {
    const size = u32(bytes, at);
    if (size < 8) return undefined;
    if (latin1(bytes.subarray(at + 4, at + 8)) === 'name') {
      const length = Math.min(u16(bytes, at + 8), bytes.length - at - 12);
      const text = localizedText(slice(bytes, at + 12, length));
      return text === '' ? undefined : text;
    }
    at += size;
  }
  return undefined;
}

/** QuickTime text: UTF-16 when it begins with a byte-order mark, else UTF-8 or a one-byte encoding. */
function localizedText(bytes: Uint8Array): string {
  const mark = bytes.length >= 2 ? u16(bytes, 0) : 0;
  if (mark === 0xfeff || mark === 0xfffe) return utf16(bytes.subarray(2), mark === 0xfffe).trim();
  return plainText(bytes);
}

async function trimmedFrames(reader: Reader, track: Track, movieTimescale: number, frameTicks: number): Promise<number> {
  if (track.edits.length === 0 || frameTicks === 0) return 0;
  const timing = await readTiming(reader, await sampleTables(reader, track.sampleTable));
  const samples = Math.ceil(timing.totalTicks / frameTicks);
  return shownSamples({ edits: track.edits, timescale: track.timescale, samples, sampleTicks: frameTicks, firstShownTicks: 0 }, movieTimescale).firstSample;
}

/** The timecode, or what is wrong with it: a negative count, no base, or drop frame at a rate that has none. */
function labelled(frame: number, { base, drop, rate }: Description, problems: FoundProblem[]): { timecode: Timecode | undefined } {
  if (base === 0 || frame < 0) {
    problems.push(doubtful(PLACE, `frame ${frame} at ${base} labels a second`, 'a frame number from 0 and a base'));
    return { timecode: undefined };
  }
  const dropExists = rate === undefined ? base % 30 === 0 : hasDropFrame(rate);
  if (drop && !dropExists) problems.push(doubtful(PLACE, `a drop-frame flag at ${base} labels a second`, 'drop frame only at 29.97, 59.94 and 119.88'));
  const format = { base, drop: drop && dropExists };
  return { timecode: { frame: frame % framesPerDay(format), format } };
}
