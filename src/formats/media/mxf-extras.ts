import { slice } from './bytes.ts';
import type { FoundText } from './media-facts.ts';
import type { HeaderMetadata, MetadataSet } from './mxf-sets.ts';
import { setsOf, textItem } from './mxf-sets.ts';
import { utf16 } from './text.ts';

const TAGGED_VALUE = '3f';
const COMMENT_NAME = 0x5001;
const COMMENT_VALUE = 0x5003;

/** Comments a writer attached to a package as name and text (AAF tagged values). */
export function metadataTexts(metadata: HeaderMetadata): FoundText[] {
  return setsOf(metadata, TAGGED_VALUE).flatMap((set) => {
    const name = textItem(set, COMMENT_NAME);
    const text = indirectText(set);
    return name === undefined || text === undefined ? [] : [{ name, text, place: `comment ${name}` }];
  });
}

/** A value that brings its type along: byte order ("B" or "L"), 16 bytes of type, then UTF-16 text; other types are left alone. */
function indirectText(set: MetadataSet): string | undefined {
  const bytes = set.items.get(COMMENT_VALUE);
  if (bytes === undefined || bytes.length < 19 || (bytes.length - 17) % 2 !== 0) return undefined;
  const little = bytes[0] === 0x4c;
  if (!little && bytes[0] !== 0x42) return undefined;
  const text = (utf16(slice(bytes, 17, bytes.length - 17), little).split('\0')[0] ?? '').trim();
  return text === '' ? undefined : text;
}

/**
 * Descriptive and private sets, and private items in standard sets: ExifTool may know them. Items of the essence itself
 * (register class 04, below 04.10) and of relations between sets (06) are no news about the shot.
 */
export function partsNotUnderstood({ sets, primer }: HeaderMetadata): string[] {
  const parts: string[] = [];
  for (const set of sets.values()) {
    if (set.kind === '') parts.push(`set ${set.key.slice(16)}`);
    for (const tag of set.items.keys()) {
      const label = tag >= 0x8000 ? primer.get(tag) : undefined;
      if (label !== undefined && isNews(label)) parts.push(`item ${label.slice(16)}`);
    }
  }
  return parts;
}

function isNews(label: string): boolean {
  const group = label.slice(16, 18);
  return group !== '06' && !(group === '04' && label.slice(18, 20) < '10');
}
