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

/** The whole header of SMPTE ST 268-1, film and television parts included; pixels start here. */
export const DPX_HEADER_BYTES = 2048;
const GENERIC_BYTES = 1664;
const INDUSTRY_BYTES = 384;
const UNDEFINED = 0xff;

/**
 * The same picture with a full header that carries timecode and rate. FFmpeg writes the generic part alone and lets pixels
 * begin right after it (measured with FFmpeg 4.1 and 5.1), so there is no room to patch. Pixels are the same bytes.
 * @throws {MalformedError} when it is no big-endian DPX, or its pixels lie before the end of its generic header.
 */
export function stampDpx(picture: Uint8Array, stamp: PictureStamp): Uint8Array {
  const magic = u32(picture, 0);
  if (magic !== 0x53445058) throw new MalformedError('byte 0', `${magic.toString(16)}`, 'SDPX');
  const pixels = u32(picture, 4);
  if (pixels < GENERIC_BYTES || pixels > picture.length) throw new MalformedError('byte 4', `pixels at ${pixels}`, `${GENERIC_BYTES} or more`);
  const stamped = new Uint8Array(DPX_HEADER_BYTES + picture.length - pixels);
  stamped.set(picture.subarray(0, GENERIC_BYTES));
  stamped.fill(UNDEFINED, GENERIC_BYTES, DPX_HEADER_BYTES);
  stamped.set(picture.subarray(pixels), DPX_HEADER_BYTES);
  writeHeader(new DataView(stamped.buffer), stamp, pixels);
  return stamped;
}

function writeHeader(view: DataView, { timecode, rate, fileName, source, slate }: PictureStamp, pixelsWere: number): void {
  view.setUint32(4, DPX_HEADER_BYTES);
  view.setUint32(16, view.byteLength);
  view.setUint32(24, GENERIC_BYTES);
  view.setUint32(28, INDUSTRY_BYTES);
  // Each image element says where its pixels lie.
  for (let at = 808; at < 808 + 72 * view.getUint16(770); at += 72) {
    if (view.getUint32(at) === pixelsWere) view.setUint32(at, DPX_HEADER_BYTES);
  }
  writeText(view, 36, 100, fileName);
  writeText(view, 160, 100, 'gemel');
  writeText(view, 1432, 100, source);
  // Texts of the film part are empty, not undefined: readers print bytes of 255 as letters.
  for (const [at, length] of [[1664, 16], [1680, 32], [1732, 32], [1764, 100]] as const) writeText(view, at, length, '');
  writeText(view, 1764, 100, slate);
  if (timecode !== undefined) {
    view.setUint32(1920, timecodeWord(timecode.label));
    if (timecode.phase > 0) view.setUint8(1929, timecode.phase);
  }
  if (rate !== undefined) {
    view.setFloat32(1724, rateAsNumber(rate));
    view.setFloat32(1940, rateAsNumber(rate));
  }
}

/** Fills a field: letters outside ASCII become "_", the rest is zero. */
function writeText(view: DataView, at: number, length: number, text: string): void {
  for (let index = 0; index < length; index++) {
    const code = index < length - 1 ? (text.charCodeAt(index) || 0) : 0;
    view.setUint8(at + index, code > 126 ? 95 : code);
  }
}
