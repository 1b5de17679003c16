import type { FrameRate } from '../../core/timecode/rate.ts';
import { formatRate, frameRate } from '../../core/timecode/rate.ts';
import type { WordFacts } from './bcd-timecode.ts';
import { wordFacts } from './bcd-timecode.ts';
import type { ByteSource, Reader } from './byte-source.ts';
import { i32, u8 } from './bytes.ts';
import type { Completeness, Container, FoundProblem, FoundText, FoundValue, MediaFacts } from './media-facts.ts';
import { found, mediaFacts, present } from './media-facts.ts';
import { attempt, cutOff, readGuarded, unreadable } from './read-guarded.ts';
import { shotDay } from './shot-day.ts';
import { plainText } from './text.ts';
import type { TiffDirectory } from './tiff-directory.ts';
import { entryBytes, entryNumbers, firstDirectoryAt, readDirectory, tiffKind } from './tiff-directory.ts';

/** What the first picture of a TIFF (or of a raw file built on TIFF) says of itself: TIFF 6.0 and BigTIFF, both byte orders. */
export function readTiff(source: ByteSource, container: Container = 'tiff'): Promise<MediaFacts> {
  return readGuarded(container, source, (reader) => readPicture(reader, container));
}

const TAG = {
  width: 256, height: 257, bits: 258, compression: 259, description: 270, make: 271, model: 272, stripOffsets: 273, stripCounts: 279,
  software: 305, dateTime: 306, artist: 315, tileOffsets: 324, tileCounts: 325, xmp: 700, copyright: 33432, iptc: 33723, exif: 34665, gps: 34853,
  makerNote: 37500, bodySerial: 50735, timeCodes: 51043, frameRate: 51044, reelName: 51081,
} as const;

/** Tags that hold metadata this reader leaves alone. */
const ELSEWHERE = ['xmp', 'exif', 'gps', 'iptc'] as const;

async function readPicture(reader: Reader, container: Container): Promise<MediaFacts> {
  const kind = reader.size < 8 ? undefined : tiffKind(await reader.look(0, 4));
  if (kind === undefined) return unreadable(container, 'the file does not begin like TIFF');
  const at = await firstDirectoryAt(reader, kind);
  if (at + 2 > reader.size) return cutOff(container, `its directory should stand at byte ${at}, the file ends at ${reader.size}`);
  const directory = await readDirectory(reader, at, kind);
  const problems: FoundProblem[] = [];
  const clock = (await attempt('TIFF tag TimeCodes', problems, () => clockFacts(reader, directory))) ?? { values: [], problems: [] };
  const named = (await attempt('TIFF texts', problems, () => namedTexts(reader, directory))) ?? { values: [], texts: [] };
  const picture = (await attempt('TIFF picture tags', problems, () => pictureValues(reader, directory))) ?? [];
  const stretch = await attempt('TIFF strips', problems, () => lastByte(reader, directory));
  return mediaFacts({
    container,
    completeness: completenessOf(stretch, reader.size),
    values: [...picture, ...clock.values, ...named.values],
    texts: named.texts,
    problems: [...problems, ...clock.problems],
    notUnderstood: ELSEWHERE.filter((name) => directory.entries.has(TAG[name])),
    ...present({ timecode: clock.timecode }),
  });
}

function place(name: string): string {
  return `TIFF tag ${name}`;
}

/** Codings by number (TIFF 6.0 and its registered additions). */
const COMPRESSIONS: Readonly<Record<number, string>> = { 1: 'uncompressed', 5: 'LZW', 7: 'JPEG', 8: 'ZIP', 32773: 'PackBits', 32946: 'ZIP' };

async function pictureValues(reader: Reader, directory: TiffDirectory): Promise<FoundValue[]> {
  const [width = 0] = await entryNumbers(reader, directory, TAG.width, 1);
  const [height = 0] = await entryNumbers(reader, directory, TAG.height, 1);
  const [bits] = await entryNumbers(reader, directory, TAG.bits, 1);
  const [compression = 1] = await entryNumbers(reader, directory, TAG.compression, 1);
  const codec = ['TIFF', ...(bits === undefined ? [] : [`${bits} bit`]), COMPRESSIONS[compression] ?? `coding ${compression}`].join(' ');
  return [
    ...(width > 0 && height > 0 ? [found('raster', { width, height }, `${width}x${height}`, place('ImageWidth'))] : []),
    found('codec', codec, String(compression), place('Compression')),
  ];
}

async function textOf(reader: Reader, directory: TiffDirectory, tag: number): Promise<string> {
  const bytes = await entryBytes(reader, directory, tag);
  return bytes === undefined ? '' : plainText(bytes.subarray(0, bytes.includes(0) ? bytes.indexOf(0) : bytes.length));
}

async function namedTexts(reader: Reader, directory: TiffDirectory): Promise<{ values: FoundValue[]; texts: FoundText[] }> {
  const values: FoundValue[] = [];
  const make = await textOf(reader, directory, TAG.make);
  const model = await textOf(reader, directory, TAG.model);
  if (model !== '') values.push(found('cameraModel', model.toLowerCase().startsWith(make.toLowerCase()) ? model : `${make} ${model}`, model, place('Model')));
  const fields = [['reel', TAG.reelName, 'ReelName'], ['cameraSerial', TAG.bodySerial, 'CameraSerialNumber']] as const;
  for (const [field, tag, name] of fields) {
    const text = await textOf(reader, directory, tag);
    if (text !== '') values.push(found(field, text, text, place(name)));
  }
  values.push(...shotDay(await textOf(reader, directory, TAG.dateTime), place('DateTime')));
  const texts: FoundText[] = [];
  for (const [name, tag] of [['ImageDescription', TAG.description], ['Software', TAG.software], ['Artist', TAG.artist], ['Copyright', TAG.copyright]] as const) {
    const text = await textOf(reader, directory, tag);
    if (text !== '') texts.push({ name, text, place: place(name) });
  }
  return { values, texts };
}

/** Rate and timecode of a raw picture built on TIFF: `FrameRate` is a signed fraction, `TimeCodes` eight bytes from frames to hours. */
async function clockFacts(reader: Reader, directory: TiffDirectory): Promise<WordFacts> {
  const fraction = await entryBytes(reader, directory, TAG.frameRate, 8);
  const rate = fraction?.length === 8 ? positiveRate(i32(fraction, 0, directory.little), i32(fraction, 4, directory.little)) : undefined;
  const stated = rate === undefined ? [] : [found('fps', rate, formatRate(rate), place('FrameRate'))];
  const code = await entryBytes(reader, directory, TAG.timeCodes, 8);
  if (code?.length !== 8) return { values: stated, problems: [] };
  const word = ((u8(code, 3) << 24) | (u8(code, 2) << 16) | (u8(code, 1) << 8) | u8(code, 0)) >>> 0;
  const clock = wordFacts(word, rate, place('TimeCodes'));
  return { ...clock, values: [...stated, ...clock.values] };
}

function positiveRate(num: number, den: number): FrameRate | undefined {
  return num > 0 && den > 0 ? frameRate(num, den) : undefined;
}

/** Where the last strip or tile ends; undefined when there are none, or their lists do not fit together. */
async function lastByte(reader: Reader, directory: TiffDirectory): Promise<number | undefined> {
  const tiled = directory.entries.has(TAG.tileOffsets);
  const offsets = await entryNumbers(reader, directory, tiled ? TAG.tileOffsets : TAG.stripOffsets);
  const counts = await entryNumbers(reader, directory, tiled ? TAG.tileCounts : TAG.stripCounts);
  if (offsets.length === 0 || offsets.length !== counts.length) return undefined;
  return offsets.reduce((end, offset, index) => Math.max(end, offset + (counts[index] ?? 0)), 0);
}

function completenessOf(end: number | undefined, size: number): Completeness {
  if (end === undefined) return { condition: 'unverified', complete: null, why: 'it does not say where its picture ends' };
  if (end > size) return { condition: 'truncated', complete: false, why: `its picture should reach byte ${end}, the file ends at ${size}` };
  return { condition: 'whole', complete: true, why: 'its picture stands inside the file' };
}
