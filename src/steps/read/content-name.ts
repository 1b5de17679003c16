import type { FoundFile, MediaStore } from '../../ports.ts';
import { byteDigest, textDigest } from '../../formats/catalogue/digest.ts';
import type { FoundSequence } from './sort-files.ts';

/** Looked at in each of the places below: a header, an index, pictures. Two takes are never alike in all of them. */
const LOOK_BYTES = 32 * 1024;
const LOOKS = 8;

/** Size and time of change: what a file system says of a file without opening it. A sequence goes by those of all its pictures. */
export function signatureOf(found: FoundFile | FoundSequence): string {
  if (!('frames' in found)) return `${found.sizeBytes}-${found.modifiedMs}`;
  return textDigest(found.frames.map(({ number, found: { sizeBytes, modifiedMs } }) => `${number} ${sizeBytes} ${modifiedMs}`).join('\n'));
}

/**
 * A name for what is in a clip wherever it lies: its size, and a digest of places spread over it; of a sequence, its numbers and
 * sizes and its first and last picture. It tells clips apart; it proves nothing against intent.
 * @throws {UnreachableFileError} when the system refuses.
 */
export async function contentName(found: FoundFile | FoundSequence, store: MediaStore, signal: AbortSignal): Promise<string> {
  if (!('frames' in found)) return `${found.sizeBytes}-${await digestOf(found, store, signal)}`;
  const numbers = textDigest(found.frames.map(({ number, found: { sizeBytes } }) => `${number} ${sizeBytes}`).join('\n'));
  const ends = [found.frames[0], found.frames.at(-1)].flatMap((frame) => frame?.found ?? []);
  const digests = await Promise.all(ends.map(async (frame) => digestOf(frame, store, signal)));
  return ['sequence', numbers, ...digests].join('-');
}

async function digestOf({ path, sizeBytes }: FoundFile, store: MediaStore, signal: AbortSignal): Promise<string> {
  const file = await store.open(path, signal);
  try {
    const last = Math.max(0, sizeBytes - LOOK_BYTES);
    const starts = new Set(Array.from({ length: LOOKS }, (_, look) => Math.round((last * look) / (LOOKS - 1))));
    const parts: string[] = [];
    for (const start of starts) parts.push(byteDigest(await file.read(start, LOOK_BYTES)));
    return textDigest(parts.join(' '));
  } finally {
    await file.close();
  }
}
