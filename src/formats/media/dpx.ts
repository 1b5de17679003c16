import type { FrameRate } from '../../core/timecode/rate.ts';
import { formatRate, rateFromDecimal, sameRate } from '../../core/timecode/rate.ts';
import type { WordFacts } from './bcd-timecode.ts';
import { wordFacts } from './bcd-timecode.ts';
import type { ByteSource, Reader } from './byte-source.ts';
import { f32, u16, u32, u8 } from './bytes.ts';
import type { Completeness, FoundProblem, FoundText, FoundValue, MediaFacts } from './media-facts.ts';
import { doubtful, found, mediaFacts, present } from './media-facts.ts';
import { cutOff, readGuarded, unreadable } from './read-guarded.ts';
import { shotDay } from './shot-day.ts';
import { fixedText, latin1 } from './text.ts';

/** What a DPX picture says of itself (SMPTE ST 268-1), in either byte order. One read of 2 KiB. */
export function readDpx(source: ByteSource): Promise<MediaFacts> {
  return readGuarded('dpx', source, readHeader);
}

const HEADER_BYTES = 2048;
/** The part of the header every DPX has; film and television fields come after it and may be absent. */
const GENERIC_BYTES = 1664;
const UNDEFINED = 0xffffffff;

/** The header bytes with their byte order, and how far the header really goes: what lies beyond `end` is picture. */
interface Header {
  readonly bytes: Uint8Array;
  readonly little: boolean;
  readonly end: number;
}

async function readHeader(reader: Reader): Promise<MediaFacts> {
  const magic = latin1(await reader.look(0, Math.min(4, reader.size)));
  if (magic !== 'SDPX' && magic !== 'XPDS') return unreadable('dpx', 'the file does not begin like DPX');
  if (reader.size < GENERIC_BYTES) return cutOff('dpx', `its header should reach byte ${GENERIC_BYTES}, the file ends at ${reader.size}`);
  const little = magic === 'XPDS';
  const bytes = await reader.look(0, Math.min(HEADER_BYTES, reader.size));
  const header = { bytes, little, end: Math.min(u32(bytes, 4, little), bytes.length) };
  const problems: FoundProblem[] = [];
  const rates = rateValues(header, problems);
  const clock = clockFacts(header, rates.rate);
  return mediaFacts({
    container: 'dpx',
    completeness: completenessOf(header, reader.size),
    values: [...rates.values, ...pictureValues(header), ...clock.values, ...cameraValues(header)],
    texts: textsOf(header),
    problems: [...problems, ...clock.problems],
    ...present({ timecode: clock.timecode }),
  });
}

/** Film rate first, television rate second, as FFmpeg does; both when they differ, since neither is known to be the right one. */
function rateValues(header: Header, problems: FoundProblem[]): { rate: FrameRate | undefined; values: FoundValue[] } {
  const values: FoundValue[] = [];
  let rate: FrameRate | undefined;
  for (const at of [1724, 1940]) {
    const stated = floatAt(header, at);
    const exact = stated === undefined ? undefined : rateFromDecimal(stated);
    if (stated !== undefined && (exact === undefined || stated > 1000)) problems.push(doubtful(`DPX byte ${at}`, `${stated} frames a second`, 'a frame rate'));
    else if (exact !== undefined && (rate === undefined || !sameRate(rate, exact))) {
      rate ??= exact;
      values.push(found('fps', exact, `${formatRate(exact)} from ${stated}`, `DPX byte ${at}`));
    }
  }
  return { rate, values };
}

function clockFacts({ bytes, little, end }: Header, rate: FrameRate | undefined): WordFacts {
  if (end < 1924) return { values: [], problems: [] };
  const word = u32(bytes, 1920, little);
  // All ones is "undefined" by the standard, all zeros what writers leave when they have no timecode.
  if (word === UNDEFINED || word === 0) return { values: [], problems: [] };
  return wordFacts(word, rate, 'DPX byte 1920');
}

function pictureValues({ bytes, little }: Header): FoundValue[] {
  const raster = { width: u32(bytes, 772, little), height: u32(bytes, 776, little) };
  const bits = u8(bytes, 803);
  const codec = `DPX ${bits === 0xff ? '' : `${bits} bit`}`.trim();
  const sized = raster.width > 0 && raster.height > 0 && raster.width < UNDEFINED && raster.height < UNDEFINED;
  return [
    ...(sized ? [found('raster', raster, `${raster.width}x${raster.height}`, 'DPX byte 772')] : []),
    found('codec', codec, `descriptor ${u8(bytes, 800)}, ${bits} bits`, 'DPX byte 800'),
  ];
}

function cameraValues(header: Header): FoundValue[] {
  const values: FoundValue[] = [];
  const angle = floatAt(header, 1728);
  if (angle !== undefined && angle <= 360) values.push(found('shutter', { kind: 'angle', degrees: angle }, `${angle}°`, 'DPX byte 1728'));
  const seconds = floatAt(header, 1968);
  if (seconds !== undefined && seconds <= 10) values.push(found('shutter', { kind: 'time', seconds }, `${seconds} s`, 'DPX byte 1968'));
  const texts = [
    ['cameraModel', 1556, 32],
    ['cameraSerial', 1588, 32],
    ['slate', 1764, 100],
  ] as const;
  for (const [field, at, length] of texts) {
    const text = textAt(header, at, length);
    if (text !== '') values.push(found(field, text, text, `DPX byte ${at}`));
  }
  return [...values, ...shotDay(textAt(header, 1532, 24), 'DPX byte 1532')];
}

function textsOf(header: Header): FoundText[] {
  const fields = [
    ['file name', 36, 100],
    ['creation time', 136, 24],
    ['creator', 160, 100],
    ['project', 260, 200],
    ['source file name', 1432, 100],
    ['film format', 1680, 32],
    ['frame id', 1732, 32],
  ] as const;
  return fields.flatMap(([name, at, length]) => {
    const text = textAt(header, at, length);
    return text === '' ? [] : [{ name, text, place: `DPX byte ${at}` }];
  });
}

function textAt({ bytes, end }: Header, at: number, length: number): string {
  return at + length <= end ? fixedText(bytes, at, length) : '';
}

/** A float that is defined (all ones is a NaN), finite and above 0: zero occurs as "unset". */
function floatAt({ bytes, little, end }: Header, at: number): number | undefined {
  if (at + 4 > end) return undefined;
  const value = f32(bytes, at, little);
  return Number.isFinite(value) && value > 0 ? value : undefined;
}

/** Samples a pixel by descriptor (ST 268-1, table 1); single components are one each. */
const SAMPLES: Readonly<Record<number, number>> = { 50: 3, 51: 4, 52: 4, 100: 2, 101: 3, 102: 3, 103: 4 };

/** Bytes the pixels need at the least: lines may be padded, and how is not stated. Undefined when they are run-length coded or of unknown layout. */
function pixelBytes({ bytes, little }: Header): number | undefined {
  const descriptor = u8(bytes, 800);
  const bits = u8(bytes, 803);
  const samples = u32(bytes, 772, little) * u32(bytes, 776, little) * (SAMPLES[descriptor] ?? 1);
  if (u16(bytes, 806, little) !== 0 || descriptor === 0xff || bits === 0xff) return undefined;
  const filled = u16(bytes, 804, little) !== 0;
  if (filled && bits === 10) return Math.floor(samples / 3) * 4;
  return Math.floor((samples * (filled && bits === 12 ? 16 : bits)) / 8);
}

/** Whole when its pixels are all there. The file size it states comes second: some writers get it wrong (ImageMagick 6.9, grey). */
function completenessOf(header: Header, size: number): Completeness {
  const stated = u32(header.bytes, 16, header.little);
  const pixels = pixelBytes(header);
  const needed = u32(header.bytes, 4, header.little) + (pixels ?? 0);
  const expected = pixels === undefined && stated !== UNDEFINED ? Math.max(stated, needed) : needed;
  if (expected > size) return { condition: 'truncated', complete: false, why: `it should hold ${expected} bytes, it holds ${size}` };
  if (pixels === undefined && stated === UNDEFINED) return { condition: 'unverified', complete: null, why: 'its header states no file size' };
  return { condition: 'whole', complete: true, why: 'its pixels are all there' };
}
