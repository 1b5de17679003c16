import type { Reader } from './byte-source.ts';
import { u32 } from './bytes.ts';
import { latin1 } from './text.ts';

/** One box (QuickTime: atom). `body` is where its content starts, `end` where the box ends, as declared: it may lie beyond the file. */
export interface Box {
  readonly type: string;
  readonly start: number;
  readonly body: number;
  readonly end: number;
}

/** Far more than any movie has in one container; past it the file is nonsense and not worth the time. */
const MAX_BOXES = 50_000;

/**
 * The boxes between two offsets, in order. Stops quietly where no box can stand (padding, a size smaller than its own header), and
 * after a box that ends beyond `end`, which is still listed: whether that matters is the caller's to say.
 */
export async function listBoxes(reader: Reader, start: number, end: number): Promise<Box[]> {
  const boxes: Box[] = [];
  for (let at = start; at + 8 <= end; ) {
    const box = await boxAt(reader, at, end);
    if (box === undefined) break;
    boxes.push(box);
    if (boxes.length === MAX_BOXES) break;
    at = box.end;
  }
  return boxes;
}

async function boxAt(reader: Reader, at: number, end: number): Promise<Box | undefined> {
  const header = await reader.look(at, 8);
  const type = latin1(header.subarray(4, 8));
  const size = u32(header, 0);
  // Size 0: the box runs to the end of what holds it. QuickTime also ends user data with four zero bytes.
  if (size === 0) return type === '\0\0\0\0' ? undefined : { type, start: at, body: at + 8, end };
  if (size === 1) {
    if (at + 16 > end) return { type, start: at, body: at + 8, end: at + 16 };
    const long = wide64(await reader.look(at + 8, 8));
    return long < 16 ? undefined : { type, start: at, body: at + 16, end: at + long };
  }
  return size < 8 ? undefined : { type, start: at, body: at + 8, end: at + size };
}

/** A 64-bit size; beyond 2^53 it ends beyond any file, whatever it is exactly. */
function wide64(bytes: Uint8Array): number {
  return u32(bytes, 0) * 0x1_0000_0000 + u32(bytes, 4);
}

/** The boxes inside a box. */
export function childrenOf(reader: Reader, box: Box): Promise<Box[]> {
  return listBoxes(reader, box.body, Math.min(box.end, reader.size));
}

/** The first box at the end of a path of types, or undefined. */
export async function findBox(reader: Reader, box: Box, path: readonly string[]): Promise<Box | undefined> {
  let current: Box | undefined = box;
  for (const type of path) {
    if (current === undefined) return undefined;
    current = (await childrenOf(reader, current)).find((child) => child.type === type);
  }
  return current;
}

/** Up to `maxBytes` of a box's content. */
export function contentOf(reader: Reader, box: Box, maxBytes = 64 * 1024): Promise<Uint8Array> {
  const end = Math.min(box.end, reader.size);
  return reader.look(box.body, Math.max(0, Math.min(end - box.body, maxBytes)));
}
