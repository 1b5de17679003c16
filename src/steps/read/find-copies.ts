import type { ReadClip } from '../../core/material/clip.ts';
import type { FoundFile } from '../../ports.ts';
import type { ClipReading } from './clip-reading.ts';
import type { ReadPorts } from './read-options.ts';
import { extensionOf, nameOf } from './sort-files.ts';
import { fileProblem } from './unusable.ts';

/** Bytes compared at the beginning and at the end of each file. */
const ENDS_BYTES = 64 * 1024;

/**
 * Finds clips that lie in the folders twice: same name (the folder aside), same size, same facts, and the same bytes at both ends.
 * The later one in order of paths is listed, not matched. `readings` must be sorted by file.
 */
export async function markCopies(readings: readonly ClipReading[], ports: ReadPorts, signal: AbortSignal): Promise<readonly ClipReading[]> {
  const firsts = new Map<string, ClipReading[]>();
  const marked: ClipReading[] = [];
  for (const reading of readings) {
    if (!reading.clip.usable) {
      marked.push(reading);
      continue;
    }
    const alike = listAt(firsts, likeness(reading.clip));
    const original = await findAsync(alike, async (first) => sameBytes(first.ends, reading.ends, ports, signal));
    if (original === undefined) alike.push(reading);
    marked.push(original === undefined ? reading : { ...reading, clip: copyOf(original.clip, reading.clip) });
  }
  return marked;
}

function likeness({ file, sizeBytes, statements, sequence }: ReadClip): string {
  const facts = statements.filter(({ source }) => source.kind === 'embedded').map(({ field, raw }) => [field, raw]);
  return JSON.stringify([nameOf(file).normalize('NFC').toLowerCase(), extensionOf(file), sizeBytes, sequence ?? null, facts]);
}

function copyOf(original: ReadClip, copy: ReadClip): ReadClip {
  const problem = fileProblem(copy.file, 'duplicate-clip', 'note', {
    found: `the same recording as ${original.file}`,
    expected: 'each clip once',
    remedy: 'nothing, if it is a second copy: it is left out of the matching',
  });
  return { ...copy, usable: false, problems: [problem, ...copy.problems] };
}

/** Whether files hold the same bytes at their beginnings and ends. A file that cannot be read any more is the same as none. */
async function sameBytes(a: readonly FoundFile[], b: readonly FoundFile[], { store }: ReadPorts, signal: AbortSignal): Promise<boolean> {
  if (a.length !== b.length) return false;
  for (const [index, one] of a.entries()) {
    const other = b[index];
    if (other === undefined || one.sizeBytes !== other.sizeBytes) return false;
    for (const start of new Set([0, Math.max(0, one.sizeBytes - ENDS_BYTES)])) {
      try {
        const [left, right] = await Promise.all([one, other].map(async ({ path }) => store.readBytes(path, start, ENDS_BYTES, signal)));
        if (left === undefined || right === undefined || !equalBytes(left, right)) return false;
      } catch {
        signal.throwIfAborted();
        return false;
      }
    }
  }
  return true;
}

function equalBytes(a: Uint8Array, b: Uint8Array): boolean {
  return a.length === b.length && a.every((byte, index) => byte === b[index]);
}

async function findAsync<T>(entries: readonly T[], isIt: (entry: T) => Promise<boolean>): Promise<T | undefined> {
  for (const entry of entries) if (await isIt(entry)) return entry;
  return undefined;
}

function listAt<T>(lists: Map<string, T[]>, key: string): T[] {
  const list = lists.get(key) ?? [];
  lists.set(key, list);
  return list;
}
