import type { Reader } from './byte-source.ts';
import { i32, MalformedError, u32 } from './bytes.ts';
import { latin1, plainText } from './text.ts';

/** One attribute of one part; `at` is where its value stands. */
export interface ExrAttribute {
  readonly name: string;
  readonly type: string;
  readonly at: number;
  readonly size: number;
}

/** The header: its flags, each part's attributes by name, and where the headers end (the tables of chunks follow). */
export interface ExrHeader {
  readonly tiled: boolean;
  readonly deep: boolean;
  readonly multiPart: boolean;
  readonly parts: readonly ReadonlyMap<string, ExrAttribute>[];
  readonly end: number;
}

/** "OpenEXR File Layout": magic number, and the flags of the version field. */
export const EXR_MAGIC = 0x01312f76;
const FLAG = { tiled: 0x200, longNames: 0x400, deep: 0x800, multiPart: 0x1000 } as const;
const MAX_ATTRIBUTES = 2000;
const MAX_PARTS = 64;

/** Reads the headers of all parts. @throws {MalformedError} when they are damaged or cut off. */
export async function readExrHeader(reader: Reader): Promise<ExrHeader> {
  const start = await reader.look(0, 8);
  const version = u32(start, 4, true);
  if ((version & 0xff) !== 2) throw new MalformedError('byte 4', `version ${version & 0xff}`, 'version 2');
  const multiPart = (version & FLAG.multiPart) !== 0;
  const longest = (version & FLAG.longNames) === 0 ? 31 : 255;
  const parts: ReadonlyMap<string, ExrAttribute>[] = [];
  let at = 8;
  for (;;) {
    const { attributes, end } = await readPart(reader, at, longest);
    at = end;
    // In a multi-part file an empty header ends the list.
    if (multiPart && attributes.size === 0) break;
    parts.push(attributes);
    if (!multiPart) break;
    if (parts.length > MAX_PARTS) throw new MalformedError(`byte ${at}`, `more than ${MAX_PARTS} parts`, 'a picture');
  }
  return { tiled: (version & FLAG.tiled) !== 0, deep: (version & FLAG.deep) !== 0, multiPart, parts, end: at };
}

async function readPart(reader: Reader, start: number, longest: number): Promise<{ attributes: Map<string, ExrAttribute>; end: number }> {
  const attributes = new Map<string, ExrAttribute>();
  let at = start;
  while (attributes.size < MAX_ATTRIBUTES) {
    const name = await readName(reader, at, longest);
    if (name === '') return { attributes, end: at + 1 };
    const type = await readName(reader, at + name.length + 1, longest);
    const value = at + name.length + 1 + type.length + 1 + 4;
    const size = i32(await reader.look(value - 4, 4), 0, true);
    if (type === '' || size < 0 || value + size > reader.size) {
      throw new MalformedError(`attribute ${printable(name)}`, `${size} bytes of ${printable(type)}`, 'a typed value inside the file');
    }
    if (!attributes.has(name)) attributes.set(name, { name, type, at: value, size });
    at = value + size;
  }
  throw new MalformedError(`byte ${start}`, `more than ${MAX_ATTRIBUTES} attributes`, 'a picture header');
}

/** A name up to its NUL, byte for byte, so that its length is its length in the file. */
async function readName(reader: Reader, at: number, longest: number): Promise<string> {
  const bytes = await reader.look(at, Math.min(longest + 1, Math.max(1, reader.size - at)));
  const end = bytes.indexOf(0);
  if (end === -1) throw new MalformedError(`byte ${at}`, `no end of a name within ${longest} bytes`, 'a name ended by a zero byte');
  return latin1(bytes.subarray(0, end));
}

function printable(name: string): string {
  return JSON.stringify(plainText(Uint8Array.from(name, (letter) => letter.charCodeAt(0))));
}
