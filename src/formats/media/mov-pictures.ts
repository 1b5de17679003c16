import type { FrameRate } from '../../core/timecode/rate.ts';
import { formatRate, rateName } from '../../core/timecode/rate.ts';
import type { Reader } from './byte-source.ts';
import type { FoundProblem, FoundValue } from './media-facts.ts';
import { doubtful, found, present } from './media-facts.ts';
import type { Box } from './mov-boxes.ts';
import { codecName } from './mov-codecs.ts';
import { shownSamples } from './mov-edits.ts';
import { countFragments, defaultTicks } from './mov-fragments.ts';
import type { TrackRate } from './mov-rate.ts';
import { rateOf } from './mov-rate.ts';
import type { SampleTables, SampleTiming } from './mov-samples.ts';
import { lastByteOf, readTiming, sampleCount, sampleTables } from './mov-samples.ts';
import type { Track } from './mov-track.ts';
import { rasterOf } from './mov-track.ts';

/** What the picture track says. `lastByte` is where the last picture ends, when the tables tell. */
export interface Pictures {
  readonly values: readonly FoundValue[];
  readonly problems: readonly FoundProblem[];
  readonly averageRate?: FrameRate;
  readonly rotationDeg?: number;
  readonly lastByte?: number;
}

/** The fragments (`moof`) of a fragmented movie and its `mvex` box. */
export interface Fragments {
  readonly boxes: readonly Box[];
  readonly defaults: Box | undefined;
}

/** Rate, length, raster and coding of the picture track. @throws {MalformedError} */
export async function readPictures(reader: Reader, track: Track, movieTimescale: number, fragments: Fragments): Promise<Pictures> {
  const tables = await sampleTables(reader, track.sampleTable);
  const timing = await allTiming(reader, track, tables, fragments);
  const problems: FoundProblem[] = [];
  const values: FoundValue[] = [];
  if (timing === undefined) problems.push(doubtful('moof', `${fragments.boxes.length} fragments, too many to count`, 'a movie with one index'));
  else values.push(...timingValues(track, timing, movieTimescale, problems));
  return {
    values: [...values, ...formatValues(track)],
    problems,
    ...present({
      averageRate: timing === undefined ? undefined : averageOf(trackRate(track, timing)),
      rotationDeg: track.rotationDeg === 0 ? undefined : track.rotationDeg,
      lastByte: await lastByteOf(reader, tables),
    }),
  };
}

/** Timing of the index plus that of the fragments; undefined when there are too many fragments. */
async function allTiming(reader: Reader, track: Track, tables: SampleTables, fragments: Fragments): Promise<SampleTiming | undefined> {
  const indexed = await readTiming(reader, tables);
  if (fragments.boxes.length === 0) {
    // A time table that was cut short still leaves the count of pictures in the size table.
    return indexed.samples > 0 ? indexed : { ...indexed, samples: await sampleCount(reader, tables) };
  }
  const ticks = fragments.defaults === undefined ? 0 : await defaultTicks(reader, fragments.defaults, track.id);
  const more = await countFragments(reader, fragments.boxes, track.id, ticks);
  if (more === undefined) return undefined;
  return {
    samples: indexed.samples + more.samples,
    totalTicks: indexed.totalTicks + more.totalTicks,
    shortestTicks: Math.min(indexed.shortestTicks, more.shortestTicks),
    longestTicks: Math.max(indexed.longestTicks, more.longestTicks),
    firstShownTicks: indexed.firstShownTicks,
  };
}

function trackRate(track: Track, timing: SampleTiming): TrackRate {
  return rateOf({ ...timing, timescale: track.timescale });
}

function averageOf(rate: TrackRate): FrameRate | undefined {
  return rate.kind === 'variable' ? rate.average : undefined;
}

function timingValues(track: Track, timing: SampleTiming, movieTimescale: number, problems: FoundProblem[]): FoundValue[] {
  const rate = trackRate(track, timing);
  const sampleTicks = timing.samples === 0 ? 0 : timing.totalTicks / timing.samples;
  const shown = shownSamples({ edits: track.edits, timescale: track.timescale, samples: timing.samples, sampleTicks, firstShownTicks: timing.firstShownTicks }, movieTimescale);
  const values: FoundValue[] = [];
  if (shown.samples > 0) {
    const place = shown.trim === '' ? 'video track' : `video track, ${shown.trim}`;
    values.push(found('frames', shown.samples, String(shown.samples), place));
  }
  if (rate.kind === 'constant' || rate.kind === 'rounded') {
    values.unshift(found('fps', rate.rate, formatRate(rate.rate), rate.kind === 'constant' ? 'video track' : 'video track, mean of rounded picture times'));
  } else if (rate.kind === 'variable') {
    problems.push(doubtful('video track', `a variable frame rate, ${rateName(rate.average)} fps on average`, 'a constant frame rate'));
  } else {
    problems.push(doubtful('video track', 'no picture times', 'a frame rate'));
  }
  return values;
}

function formatValues({ entry }: Track): FoundValue[] {
  if (entry === undefined) return [];
  const raster = rasterOf(entry);
  return [
    ...(raster === undefined ? [] : [found('raster', raster, `${raster.width}x${raster.height}`, 'video track')]),
    found('codec', codecName(entry.format), entry.format, 'video track'),
  ];
}
