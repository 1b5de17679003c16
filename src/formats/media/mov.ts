import type { Acquisition } from './acquisition.ts';
import { acquisitionOf } from './acquisition.ts';
import type { ByteSource, Reader } from './byte-source.ts';
import { u32, u8 } from './bytes.ts';
import type { Completeness, Container, FoundProblem, FoundText, FoundValue, MediaFacts } from './media-facts.ts';
import { doubtful, found, mediaFacts, present, timecodeValues } from './media-facts.ts';
import type { Box } from './mov-boxes.ts';
import { childrenOf, contentOf, listBoxes } from './mov-boxes.ts';
import { readMetadata } from './mov-metadata.ts';
import type { Pictures } from './mov-pictures.ts';
import { readPictures } from './mov-pictures.ts';
import { firstByteOf, sampleTables } from './mov-samples.ts';
import type { TimecodeTrack } from './mov-timecode.ts';
import { readTimecodeTrack } from './mov-timecode.ts';
import type { Track } from './mov-track.ts';
import { readTrack } from './mov-track.ts';
import { attempt, cutOff, readGuarded, unreadable } from './read-guarded.ts';
import { shotDay } from './shot-day.ts';
import { latin1 } from './text.ts';

/**
 * What a QuickTime or MP4 file says of itself (QuickTime File Format, ISO/IEC 14496-12). Needs two or three small reads. Never throws
 * for what the file holds, only when the source itself cannot be read.
 */
export function readMov(source: ByteSource): Promise<MediaFacts> {
  return readGuarded('mov', source, readMovie);
}

/** Types a movie may begin with; `pnot` and `styp` are rare but real. */
const FIRST_TYPES = new Set(['ftyp', 'moov', 'mdat', 'wide', 'free', 'skip', 'pnot', 'styp', 'moof', 'uuid']);
/** Cameras write under ten. */
const MAX_TRACKS = 256;
/** The first sample of such a track, at the most; the second repeats its items, and the first stand. */
const ACQUISITION_BYTES = 4096;
const INDEX_PRELOAD_BYTES = 1024 * 1024;

async function readMovie(reader: Reader): Promise<MediaFacts> {
  const container = containerOf(await reader.look(0, Math.min(12, reader.size)));
  if (container === undefined) return unreadable('mov', 'the file does not begin like a movie');
  const boxes = await listBoxes(reader, 0, reader.size);
  const index = boxes.find((box) => box.type === 'moov');
  if (index === undefined) {
    return cutOff(container, 'it begins like a movie but its index (moov) is missing: the copy or the recording broke off');
  }
  const movie = await readIndex(reader, index, boxes);
  return factsOf(container, movie, completenessOf(boxes, movie.pictures, reader.size));
}

/** QuickTime when it says so or says nothing: brands came with MP4. Undefined when it is neither. */
function containerOf(start: Uint8Array): Container | undefined {
  const type = latin1(start.subarray(4, 8));
  if (!FIRST_TYPES.has(type)) return undefined;
  const brand = latin1(start.subarray(8, 12));
  return type !== 'ftyp' || brand === 'qt  ' ? 'mov' : 'mp4';
}

interface Movie {
  readonly pictures: Pictures | undefined;
  readonly timecode: TimecodeTrack | undefined;
  readonly acquisition: Acquisition | undefined;
  readonly texts: readonly FoundText[];
  readonly notUnderstood: readonly string[];
  readonly problems: readonly FoundProblem[];
}

async function readIndex(reader: Reader, index: Box, topLevel: readonly Box[]): Promise<Movie> {
  await reader.preload(index.start, Math.min(index.end - index.start, INDEX_PRELOAD_BYTES));
  const boxes = await childrenOf(reader, index);
  const problems: FoundProblem[] = [];
  const tracks: Track[] = [];
  const metadata = [await attempt('moov', problems, () => readMetadata(reader, boxes, 'moov'))];
  for (const trak of boxes.filter((box) => box.type === 'trak').slice(0, MAX_TRACKS)) {
    const track = await attempt('trak', problems, () => readTrack(reader, trak));
    if (track === undefined) continue;
    tracks.push(track);
    metadata.push(await attempt('trak', problems, async () => readMetadata(reader, await childrenOf(reader, trak), track.handler)));
  }
  // After the tracks, since it may lie far from the index.
  metadata.push(await attempt('file', problems, () => readMetadata(reader, topLevel, 'file')));
  const timescale = await movieTimescale(reader, boxes);
  const picture = tracks.find((track) => track.handler === 'vide');
  const fragments = { boxes: topLevel.filter((box) => box.type === 'moof'), defaults: boxes.find((box) => box.type === 'mvex') };
  const clock = picture?.timecodeTracks ?? [];
  const recorded = tracks.find(isAcquisition);
  const timecode = tracks.find((track) => clock.includes(track.id)) ?? tracks.find((track) => isTimecode(track));
  return {
    pictures: picture === undefined ? undefined : await attempt('video track', problems, () => readPictures(reader, picture, timescale, fragments)),
    timecode: timecode === undefined ? undefined : await attempt('tmcd track', problems, () => readTimecodeTrack(reader, timecode, timescale, fragments.boxes)),
    acquisition: recorded === undefined ? undefined : await attempt('rtmd track', problems, () => readAcquisition(reader, recorded)),
    texts: metadata.flatMap((part) => part?.texts ?? []),
    notUnderstood: [...metadata.flatMap((part) => part?.notUnderstood ?? []), ...tracks.filter(isTimedMetadata).map((track) => `${track.handler} track`)],
    problems: picture === undefined ? [...problems, doubtful('moov', 'no picture track', 'a picture track')] : problems,
  };
}

function isTimecode(track: Track): boolean {
  return track.handler === 'tmcd' || track.entry?.format === 'tmcd' || track.entry?.format === 'tc64';
}

async function readAcquisition(reader: Reader, track: Track): Promise<Acquisition> {
  const at = await firstByteOf(reader, await sampleTables(reader, track.sampleTable));
  const length = at === undefined ? 0 : Math.min(ACQUISITION_BYTES, reader.size - at);
  return acquisitionOf(at === undefined || length <= 0 ? new Uint8Array(0) : await reader.peek(at, length), 'rtmd track');
}

/** What some cameras record of lens and exposure with each picture. */
function isAcquisition(track: Track): boolean {
  return track.entry?.format === 'rtmd';
}

function isTimedMetadata(track: Track): boolean {
  return !isTimecode(track) && !isAcquisition(track) && track.handler !== 'vide' && track.handler !== 'soun' && track.handler !== 'hint';
}

async function movieTimescale(reader: Reader, boxes: readonly Box[]): Promise<number> {
  const header = boxes.find((box) => box.type === 'mvhd');
  if (header === undefined) return 0;
  const bytes = await contentOf(reader, header);
  return bytes.length < 32 ? 0 : u32(bytes, u8(bytes, 0) === 1 ? 20 : 12);
}

function completenessOf(boxes: readonly Box[], pictures: Pictures | undefined, size: number): Completeness {
  const cut = boxes.find((box) => box.end > size);
  if (cut !== undefined) {
    return { condition: 'truncated', complete: false, why: `its part "${cut.type}" should reach byte ${cut.end}, the file ends at ${size}` };
  }
  const lastByte = pictures?.lastByte ?? 0;
  if (lastByte > size) return { condition: 'truncated', complete: false, why: `the index puts the last picture's end at byte ${lastByte}, the file ends at ${size}` };
  return { condition: 'whole', complete: true, why: 'index and pictures stand inside the file' };
}

function factsOf(container: Container, movie: Movie, completeness: Completeness): MediaFacts {
  const { pictures, timecode, acquisition } = movie;
  const texts = [...movie.texts, ...(acquisition?.texts ?? [])];
  const reel = timecode?.reel;
  const values: FoundValue[] = [
    ...(pictures?.values ?? []),
    ...(timecode?.timecode === undefined ? [] : timecodeValues(timecode.timecode, 'tmcd track', timecode.rate)),
    ...(reel === undefined ? [] : [found('reel', reel, reel, 'tmcd track')]),
    ...textValues(texts),
    ...(acquisition?.values ?? []),
  ];
  return mediaFacts({
    container,
    completeness,
    values,
    texts,
    notUnderstood: movie.notUnderstood,
    problems: [...movie.problems, ...(pictures?.problems ?? []), ...(timecode?.problems ?? [])],
    ...present({ timecode: timecode?.timecode, averageRate: pictures?.averageRate, rotationDeg: pictures?.rotationDeg }),
  });
}

/** The two texts that QuickTime itself gives a meaning: who made the camera, and when the clip was made. */
function textValues(texts: readonly FoundText[]): FoundValue[] {
  const named = (...names: string[]): FoundText | undefined => texts.find(({ name }) => names.includes(name));
  const model = named('com.apple.quicktime.model', 'model');
  const date = named('com.apple.quicktime.creationdate', 'date');
  return [
    ...(model === undefined ? [] : [found('cameraModel', model.text, model.text, model.place)]),
    ...(date === undefined ? [] : shotDay(date.text, date.place)),
  ];
}
