import { MalformedError, u16, u32 } from './bytes.ts';
import { exrLength } from './stamp-exr.ts';

/** Kinds of picture frames are pulled to. */
export const PULL_FORMATS = ['dpx', 'exr', 'tiff', 'png'] as const;
export type PullFormat = (typeof PULL_FORMATS)[number];

/**
 * How many bytes the picture at the start of a stream of pictures has, as FFmpeg writes them one after the other; undefined
 * while more bytes are needed to tell. @throws {MalformedError} when it is no picture of the format.
 */
export function pictureLength(bytes: Uint8Array, format: PullFormat): number | undefined {
  switch (format) {
    case 'dpx':
      return bytes.length < 20 ? undefined : dpxLength(bytes);
    case 'exr':
      return exrLength(bytes);
    case 'tiff':
      return tiffLength(bytes);
    case 'png':
      return pngLength(bytes);
    default:
      return format satisfies never;
  }
}

function dpxLength(bytes: Uint8Array): number {
  if (u32(bytes, 0) !== 0x53445058) throw new MalformedError('byte 0', 'other bytes', 'SDPX');
  return u32(bytes, 16);
}

/** FFmpeg writes the directory last, behind all it points to (TIFF 6.0, section 2; measured with FFmpeg 4.1 and 5.1). */
function tiffLength(bytes: Uint8Array): number | undefined {
  if (bytes.length < 8) return undefined;
  if (u32(bytes, 0) !== 0x49492a00) throw new MalformedError('byte 0', 'other bytes', 'a little-endian TIFF');
  const directory = u32(bytes, 4, true);
  return bytes.length < directory + 2 ? undefined : directory + 2 + 12 * u16(bytes, directory, true) + 4;
}

/** Walks the chunks to the last one, IEND (PNG, third edition, section 5). */
function pngLength(bytes: Uint8Array): number | undefined {
  if (bytes.length < 8) return undefined;
  if (u32(bytes, 0) !== 0x89504e47) throw new MalformedError('byte 0', 'other bytes', 'PNG');
  let at = 8;
  while (bytes.length >= at + 8) {
    const end = at + 12 + u32(bytes, at);
    if (u32(bytes, at + 4) === 0x49454e44) return end;
    at = end;
  }
  return undefined;
}
