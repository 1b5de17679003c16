import type { FrameRate } from '../../core/timecode/rate.ts';
import { rateAsNumber } from '../../core/timecode/rate.ts';
import { MalformedError, u32 } from './bytes.ts';
import { timecodeWord } from './timecode-word.ts';
import type { HeaderLabel } from './timecode-word.ts';

/** What a pulled picture says of itself in its header. */
export interface PictureStamp {
  readonly timecode: HeaderLabel | undefined;
  readonly rate: FrameRate | undefined;
  /** The picture's own file name. */
  readonly fileName: string;
  /** The clip it was pulled from. */
  readonly source: string;
  /** Slate and take as they are written. */
  readonly slate: string;
}

/** The whole header of SMPTE ST 268-1, film and television parts included. */
export const DPX_HEADER_BYTES = 2048;
const GENERIC_BYTES = 1664;
const INDUSTRY_BYTES = 384;
const UNDEFINED = 0xff;
const BYTES_A_PIXEL = 4;
/** Byte order of the files: the one FFmpeg's filters work in, so that no picture has to be turned round. Both are in the standard. */
const LITTLE = true;

/**
 * How many lines to put on top of a picture of 10 bit R'G'B' so that a whole header fits in front of the others. FFmpeg writes the
 * generic part alone and lets pixels begin right after it (measured with FFmpeg 4.1 and 5.1); what it wrote of these lines gives
 * way to the header, and no pixel has to be moved. As an expression of FFmpeg's filters this is `ceil(96/iw)`.
 */
export function linesForHeader(width: number): number {
  return Math.ceil(INDUSTRY_BYTES / BYTES_A_PIXEL / width);
}

/**
 * What to write over the first 2048 bytes of a picture with `linesForHeader` lines on top: a full header that carries timecode and
 * rate, and by which the picture begins below those lines. @throws {MalformedError} when it is no such picture.
 */
export function stampDpx(start: Uint8Array, stamp: PictureStamp): Uint8Array {
  const [magic, pixels, width, height] = [u32(start, 0), u32(start, 4, LITTLE), u32(start, 772, LITTLE), u32(start, 776, LITTLE)];
  if (magic !== 0x58504453) throw new MalformedError('byte 0', magic.toString(16), 'XPDS');
  if (pixels !== GENERIC_BYTES) throw new MalformedError('byte 4', `pixels at ${pixels}`, `pixels at ${GENERIC_BYTES}, as FFmpeg writes them`);
  if (start.length < DPX_HEADER_BYTES || width === 0) throw new MalformedError('byte 772', `a width of ${width} in ${start.length} bytes`, 'a picture');
  const lines = linesForHeader(width);
  const header = new Uint8Array(DPX_HEADER_BYTES).fill(UNDEFINED, GENERIC_BYTES);
  header.set(start.subarray(0, GENERIC_BYTES));
  const view = new DataView(header.buffer);
  const begins = GENERIC_BYTES + lines * width * BYTES_A_PIXEL;
  view.setUint32(4, begins, LITTLE);
  view.setUint32(776, height - lines, LITTLE);
  // The original size is the same picture's (bytes 1424 and 1428), where it is stated.
  if (view.getUint32(1428, LITTLE) === height) view.setUint32(1428, height - lines, LITTLE);
  // The image element says where its pixels lie.
  view.setUint32(808, begins, LITTLE);
  writeHeader(view, stamp);
  return header;
}

function writeHeader(view: DataView, { timecode, rate, fileName, source, slate }: PictureStamp): void {
  view.setUint32(24, GENERIC_BYTES, LITTLE);
  view.setUint32(28, INDUSTRY_BYTES, LITTLE);
  writeText(view, 36, 100, fileName);
  writeText(view, 160, 100, 'gemel');
  writeText(view, 1432, 100, source);
  // Texts of the film part are empty, not undefined: readers print bytes of 255 as letters.
  for (const [at, length] of [[1664, 16], [1680, 32], [1732, 32], [1764, 100]] as const) writeText(view, at, length, '');
  writeText(view, 1764, 100, slate);
  if (timecode !== undefined) {
    view.setUint32(1920, timecodeWord(timecode.label), LITTLE);
    if (timecode.phase > 0) view.setUint8(1929, timecode.phase);
  }
  if (rate !== undefined) {
    view.setFloat32(1724, rateAsNumber(rate), LITTLE);
    view.setFloat32(1940, rateAsNumber(rate), LITTLE);
  }
}

/** Fills a field: letters outside ASCII become "_", the rest is zero. */
function writeText(view: DataView, at: number, length: number, text: string): void {
  for (let index = 0; index < length; index++) {
    const code = index < length - 1 ? (text.charCodeAt(index) || 0) : 0;
    view.setUint8(at + index, code > 126 ? 95 : code);
  }
}
