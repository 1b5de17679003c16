import type { Reader } from './byte-source.ts';
import { slice, u16, u32 } from './bytes.ts';
import type { FoundText } from './media-facts.ts';
import type { Box } from './mov-boxes.ts';
import { childrenOf, contentOf, listBoxes } from './mov-boxes.ts';
import { latin1, plainText, utf16 } from './text.ts';

/** The texts a movie carries, and the metadata parts that are left to other readers. */
export interface MovieMetadata {
  readonly texts: readonly FoundText[];
  readonly notUnderstood: readonly string[];
}

/** QuickTime user-data codes worth a name (QuickTime File Format, "User data list entry types"). */
const USER_DATA: Readonly<Record<string, string>> = {
  '©mak': 'make',
  '©mod': 'model',
  '©day': 'date',
  '©cmt': 'notes',
  '©nam': 'title',
  '©des': 'description',
  '©swr': 'software',
  '©too': 'software',
};
/** Boxes that hold nothing a clip could be judged by. */
const SILENT = new Set(['hdlr', 'free', 'skip', 'wide', 'Xtra', 'SDLN', 'WLOC', 'LOOP', 'SelO', 'AllF', 'name', 'ptv ', '©TSC', '©TSZ', '©enc', 'titl', 'dscp']);
const MAX_ITEMS = 2000;

/** Metadata of one container (`moov` or `trak`): its `meta` and `udta` boxes. `where` names the container. @throws {MalformedError} */
export async function readMetadata(reader: Reader, boxes: readonly Box[], where: string): Promise<MovieMetadata> {
  const texts: FoundText[] = [];
  const notUnderstood: string[] = [];
  for (const box of boxes) {
    if (box.type === 'uuid') notUnderstood.push(`${where} uuid`);
    if (box.type === 'meta') await readMeta(reader, box, `${where} meta`, { texts, notUnderstood });
    if (box.type === 'udta') await readUserData(reader, box, `${where} udta`, { texts, notUnderstood });
  }
  return { texts, notUnderstood };
}

interface Collected {
  readonly texts: FoundText[];
  readonly notUnderstood: string[];
}

async function readUserData(reader: Reader, userData: Box, where: string, into: Collected): Promise<void> {
  for (const box of await childrenOf(reader, userData)) {
    if (box.type === 'meta') await readMeta(reader, box, `${where} meta`, into);
    else if (box.type.startsWith('©')) into.texts.push(...userTexts(await contentOf(reader, box), box.type, where));
    else if (!SILENT.has(box.type)) into.notUnderstood.push(`${where} ${box.type.trim()}`);
  }
}

/** User-data text: entries of length, language and text; several for several languages, of which the first is enough. */
function userTexts(bytes: Uint8Array, type: string, where: string): FoundText[] {
  if (bytes.length < 4) return [];
  const length = Math.min(u16(bytes, 0), bytes.length - 4);
  const text = plainText(slice(bytes, 4, length));
  return text === '' ? [] : [{ name: USER_DATA[type] ?? type, text, place: `${where} ${type}` }];
}

/** QuickTime's `meta` is a plain box, MP4's has four bytes of version and flags first: the first child's type tells. */
async function readMeta(reader: Reader, meta: Box, where: string, into: Collected): Promise<void> {
  if (meta.end - meta.body < 12) return;
  const head = await reader.look(meta.body, 12);
  const start = latin1(head.subarray(8, 12)) === 'hdlr' ? meta.body + 4 : meta.body;
  const boxes = await listBoxes(reader, start, Math.min(meta.end, reader.size));
  const keysBox = boxes.find((box) => box.type === 'keys');
  const keys = keysBox === undefined ? [] : readKeys(await contentOf(reader, keysBox));
  for (const box of boxes) {
    if (box.type === 'ilst') await readItems(reader, box, keys, where, into);
    else if (box.type !== 'keys' && !SILENT.has(box.type)) into.notUnderstood.push(`${where} ${box.type.trim()}`);
  }
}

function readKeys(bytes: Uint8Array): string[] {
  const keys: string[] = [];
  const count = Math.min(u32(bytes, 4), MAX_ITEMS);
  for (let at = 8; keys.length < count && at + 8 <= bytes.length; ) {
    const size = u32(bytes, at);
    if (size < 8 || at + size > bytes.length) break;
    keys.push(plainText(bytes.subarray(at + 8, at + size)));
    at += size;
  }
  return keys;
}

async function readItems(reader: Reader, list: Box, keys: readonly string[], where: string, into: Collected): Promise<void> {
  for (const item of (await childrenOf(reader, list)).slice(0, MAX_ITEMS)) {
    const index = u32(await reader.look(item.start + 4, 4), 0);
    const name = keys[index - 1] ?? USER_DATA[item.type] ?? item.type;
    const text = itemText(await contentOf(reader, item));
    if (text === undefined) into.notUnderstood.push(`${where} ${name}`);
    else if (text !== '') into.texts.push({ name, text, place: `${where} ${name}` });
  }
}

/** Text of an item's `data` box: type 1 is UTF-8, 2 UTF-16, 21 and 22 whole numbers. Undefined for any other type. */
function itemText(bytes: Uint8Array): string | undefined {
  if (bytes.length < 16 || latin1(bytes.subarray(4, 8)) !== 'data') return undefined;
  const value = slice(bytes, 16, Math.max(0, Math.min(u32(bytes, 0), bytes.length) - 16));
  const type = u32(bytes, 8);
  if (type === 1) return plainText(value);
  if (type === 2) return utf16(value).trim();
  return type === 21 || type === 22 ? wholeNumber(value, type === 21) : undefined;
}

function wholeNumber(bytes: Uint8Array, signed: boolean): string | undefined {
  if (bytes.length === 0 || bytes.length > 4) return undefined;
  const value = bytes.reduce((sum, byte) => sum * 256 + byte, 0);
  const limit = 256 ** bytes.length;
  return String(signed && value >= limit / 2 ? value - limit : value);
}
