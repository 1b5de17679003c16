import type { ByteSource, Reader } from './byte-source.ts';
import { hex, u32, u8 } from './bytes.ts';
import type { Completeness, FoundText, MediaFacts } from './media-facts.ts';
import { found, mediaFacts } from './media-facts.ts';
import { cutOff, readGuarded, unreadable } from './read-guarded.ts';
import { latin1, utf8 } from './text.ts';

/** What a PNG picture says of itself (W3C PNG, third edition): size, depth, texts, and whether it ends as it must. */
export function readPng(source: ByteSource): Promise<MediaFacts> {
  return readGuarded('png', source, readPicture);
}

const SIGNATURE = '89504e470d0a1a0a';
const END = '0000000049454e44ae426082';
const MAX_CHUNKS = 20_000;
const MAX_TEXT_BYTES = 64 * 1024;
/** Chunks that hold metadata this reader leaves alone. */
const ELSEWHERE = new Set(['zTXt', 'eXIf', 'caBX']);

async function readPicture(reader: Reader): Promise<MediaFacts> {
  if (reader.size < 8 || hex(await reader.look(0, 8)) !== SIGNATURE) return unreadable('png', 'the file does not begin like PNG');
  if (reader.size < 33) return cutOff('png', 'its header is cut off');
  const header = await reader.look(8, 18);
  if (latin1(header.subarray(4, 8)) !== 'IHDR') return unreadable('png', 'its first part is not the header');
  const raster = { width: u32(header, 8), height: u32(header, 12) };
  const bits = u8(header, 16);
  const walk = await readChunks(reader);
  return mediaFacts({
    container: 'png',
    completeness: await completenessOf(reader, walk),
    values: [
      ...(raster.width > 0 && raster.height > 0 ? [found('raster', raster, `${raster.width}x${raster.height}`, 'PNG IHDR')] : []),
      found('codec', `PNG ${bits} bit`, `${bits} bits, colour type ${u8(header, 17)}`, 'PNG IHDR'),
    ],
    texts: walk.texts,
    notUnderstood: walk.notUnderstood,
  });
}

interface Walk {
  readonly texts: readonly FoundText[];
  readonly notUnderstood: readonly string[];
  /** Where the picture's own chunks begin, from which only their headers matter. */
  readonly at: number;
}

/** Chunks before the picture: their texts. */
async function readChunks(reader: Reader): Promise<Walk> {
  const texts: FoundText[] = [];
  const notUnderstood: string[] = [];
  let at = 33;
  for (let chunks = 0; chunks < MAX_CHUNKS && at + 12 <= reader.size; chunks++) {
    const head = await reader.look(at, 8);
    const length = u32(head, 0);
    const type = latin1(head.subarray(4, 8));
    if (type === 'IDAT' || type === 'IEND' || at + 12 + length > reader.size) break;
    if (type === 'tEXt' || type === 'iTXt') {
      const text = textChunk(await reader.look(at + 8, Math.min(length, MAX_TEXT_BYTES)), type);
      if (text === undefined || text.name === 'XML:com.adobe.xmp') notUnderstood.push(type);
      else if (text.text !== '') texts.push(text);
    } else if (ELSEWHERE.has(type)) notUnderstood.push(type);
    at += 12 + length;
  }
  return { texts, notUnderstood, at };
}

/** Keyword and text. `iTXt` has between them: a flag and a method of compression, a language and the translated keyword. */
function textChunk(bytes: Uint8Array, type: 'tEXt' | 'iTXt'): FoundText | undefined {
  const end = bytes.indexOf(0);
  if (end <= 0) return undefined;
  const name = latin1(bytes.subarray(0, end));
  if (type === 'tEXt') return { name, text: latin1(bytes.subarray(end + 1)).trim(), place: `PNG tEXt ${name}` };
  const language = bytes.indexOf(0, end + 3);
  const translated = bytes.indexOf(0, language + 1);
  if (bytes[end + 1] !== 0 || language === -1 || translated === -1) return undefined;
  return { name, text: utf8(bytes.subarray(translated + 1)).trim(), place: `PNG iTXt ${name}` };
}

async function completenessOf(reader: Reader, { at }: Walk): Promise<Completeness> {
  const whole: Completeness = { condition: 'whole', complete: true, why: 'it ends as a PNG must' };
  if (hex(await reader.peek(reader.size - 12, 12)) === END) return whole;
  // Something may follow the end (some writers pad), so the chunks are walked before the file is called cut off.
  let next = at;
  for (let chunks = 0; chunks < MAX_CHUNKS && next + 12 <= reader.size; chunks++) {
    const head = await reader.peek(next, 8);
    if (latin1(head.subarray(4, 8)) === 'IEND') return whole;
    next += 12 + u32(head, 0);
  }
  return { condition: 'truncated', complete: false, why: 'its end (IEND) is missing' };
}
