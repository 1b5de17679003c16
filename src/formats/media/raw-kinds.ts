import type { ByteSource, Reader } from './byte-source.ts';
import { u32 } from './bytes.ts';
import type { FoundValue, MediaFacts } from './media-facts.ts';
import { found, mediaFacts } from './media-facts.ts';
import { readMov } from './mov.ts';
import { readGuarded, unreadable } from './read-guarded.ts';
import { fixedText, latin1 } from './text.ts';
import { readTiff } from './tiff.ts';

/**
 * A camera's raw format whose header can be read here though its pictures cannot be decoded. `structure` says how: as a QuickTime movie,
 * as TIFF, by a few published fields, or not at all. `perFrame`: one file holds one picture, so files form sequences.
 */
export interface RawKind {
  readonly extension: string;
  readonly name: string;
  readonly perFrame: boolean;
  readonly structure: 'movie' | 'tiff' | 'fields' | 'unknown';
}

/** Known by extension (lower case). Structures as read by ExifTool 13.59 and LibRaw; `unknown` where no published reader was found. */
const RAW_KINDS: readonly RawKind[] = [
  { extension: 'r3d', name: 'REDCODE raw', perFrame: false, structure: 'fields' },
  { extension: 'ari', name: 'ARRIRAW', perFrame: true, structure: 'fields' },
  { extension: 'arx', name: 'ARRIRAW HDE', perFrame: true, structure: 'unknown' },
  { extension: 'braw', name: 'Blackmagic RAW', perFrame: false, structure: 'movie' },
  { extension: 'crm', name: 'Cinema RAW Light', perFrame: false, structure: 'movie' },
  { extension: 'rmf', name: 'Cinema RAW', perFrame: true, structure: 'unknown' },
  { extension: 'dng', name: 'CinemaDNG', perFrame: true, structure: 'tiff' },
  { extension: 'cine', name: 'Cine raw', perFrame: false, structure: 'fields' },
];

/** The raw kind of a file by its extension, or undefined. */
export function rawKindOf(fileName: string): RawKind | undefined {
  const extension = /\.([^./]+)$/u.exec(fileName)?.[1]?.toLowerCase();
  return RAW_KINDS.find((kind) => kind.extension === extension);
}

/** What a raw file's header says. Never throws for what the file holds. */
export async function readRaw(source: ByteSource, kind: RawKind): Promise<MediaFacts> {
  const facts = await structureFacts(source, kind);
  if (facts.completeness.condition === 'empty' || facts.completeness.condition === 'unreadable') return facts;
  // The format's own name, in place of the coding of its pictures or of a preview.
  const codec = found('codec', kind.name, kind.extension, 'file extension');
  const values = [...facts.values.filter(({ field }) => field !== 'codec'), codec];
  // What a movie or a DNG does not say by its own standard, ExifTool may know of this camera.
  return { ...facts, values, codec: kind.name, container: 'raw', moreMetadata: true };
}

function structureFacts(source: ByteSource, kind: RawKind): Promise<MediaFacts> {
  switch (kind.structure) {
    case 'movie':
      return readMov(source);
    case 'tiff':
      return readTiff(source, 'raw');
    case 'fields':
      return readGuarded('raw', source, (reader) => fieldFacts(reader, kind));
    case 'unknown':
      return readGuarded('raw', source, () => Promise.resolve(unverified([])));
    default:
      return kind.structure satisfies never;
  }
}

/** Formats known by a magic word and a few fields. */
async function fieldFacts(reader: Reader, kind: RawKind): Promise<MediaFacts> {
  const start = await reader.look(0, Math.min(732, reader.size));
  const word = latin1(start.subarray(0, 8));
  if (kind.extension === 'r3d') return /^\0\0..RED[12]$/su.test(word) ? unverified([]) : unreadable('raw', 'it does not begin like REDCODE raw');
  if (kind.extension === 'cine') return word.startsWith('CI\x2c\0') ? unverified([]) : unreadable('raw', 'it does not begin like Cine raw');
  if (!word.startsWith('ARRI')) return unreadable('raw', 'it does not begin like ARRIRAW');
  return unverified(start.length < 732 ? [] : arriValues(start));
}

/** Width at 20, height at 24, least significant byte first; camera model as text at 668 (as LibRaw reads them). */
function arriValues(start: Uint8Array): FoundValue[] {
  const raster = { width: u32(start, 20, true), height: u32(start, 24, true) };
  const model = fixedText(start, 668, 64);
  const sized = raster.width > 0 && raster.height > 0 && raster.width < 65_536 && raster.height < 65_536;
  return [
    ...(sized ? [found('raster', raster, `${raster.width}x${raster.height}`, 'raw header, byte 20')] : []),
    ...(model === '' ? [] : [found('cameraModel', model, model, 'raw header, byte 668')]),
  ];
}

function unverified(values: readonly FoundValue[]): MediaFacts {
  const completeness = { condition: 'unverified', complete: null, why: 'gemel knows no way to tell from this kind of raw file' } as const;
  return mediaFacts({ container: 'raw', completeness, values });
}
