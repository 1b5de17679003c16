import type { ByteSource } from './byte-source.ts';
import { readDpx } from './dpx.ts';
import { readExr } from './exr.ts';
import type { MediaFacts } from './media-facts.ts';
import { readMov } from './mov.ts';
import { readMxf } from './mxf.ts';
import { readPng } from './png.ts';
import type { RawKind } from './raw-kinds.ts';
import { rawKindOf, readRaw } from './raw-kinds.ts';
import { readTiff } from './tiff.ts';

/** What a file is taken for by its extension: a movie, one picture of a sequence, or raw whose pictures cannot be decoded. */
export type MediaKind = 'movie' | 'picture' | 'raw-movie' | 'raw-picture';

type HeaderReader = (source: ByteSource) => Promise<MediaFacts>;

const MOVIES: Readonly<Record<string, HeaderReader>> = { mov: readMov, mp4: readMov, m4v: readMov, mxf: readMxf };
const PICTURES: Readonly<Record<string, HeaderReader>> = { exr: readExr, dpx: readDpx, tif: readTiff, tiff: readTiff, png: readPng };

/** The kind of media a file name promises, or undefined when it is no media gemel reads. */
export function mediaKindOf(fileName: string): MediaKind | undefined {
  const extension = extensionOf(fileName);
  if (Object.hasOwn(MOVIES, extension)) return 'movie';
  if (Object.hasOwn(PICTURES, extension)) return 'picture';
  const raw = rawKindOf(fileName);
  return raw === undefined ? undefined : kindOfRaw(raw);
}

function kindOfRaw(raw: RawKind): MediaKind {
  return raw.perFrame ? 'raw-picture' : 'raw-movie';
}

/** What a media file's header says, by the reader its extension names; undefined when it is no media gemel reads. */
export async function readMedia(source: ByteSource, fileName: string): Promise<MediaFacts | undefined> {
  const raw = rawKindOf(fileName);
  if (raw !== undefined) return readRaw(source, raw);
  const extension = extensionOf(fileName);
  const read = Object.hasOwn(MOVIES, extension) ? MOVIES[extension] : Object.hasOwn(PICTURES, extension) ? PICTURES[extension] : undefined;
  return read?.(source);
}

function extensionOf(fileName: string): string {
  return /\.([^./]+)$/u.exec(fileName)?.[1]?.toLowerCase() ?? '';
}
