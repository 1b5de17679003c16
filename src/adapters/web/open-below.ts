import { constants } from 'node:fs';
import type { FileHandle } from 'node:fs/promises';
import { open, realpath, stat } from 'node:fs/promises';
import { join } from 'node:path';

/** A plain file, open for reading, as it was when it was opened. Whoever holds it closes it. */
export interface OpenedFile {
  readonly handle: FileHandle;
  readonly sizeBytes: number;
  /** Another one for every other content: which file it is, how long, and when it was written. */
  readonly version: string;
}

/**
 * Opens a file below a folder by the parts of its name; undefined when there is none, when it is no plain file, when a part hides
 * (".git"), climbs ("..") or names more than one part, or when a link stands anywhere on the way.
 */
export async function openBelow(folder: string, parts: readonly string[]): Promise<OpenedFile | undefined> {
  if (parts.length === 0 || !parts.every(isPlainPart)) return undefined;
  try {
    const path = join(await realpath(folder), ...parts);
    // Without waiting: a pipe that nobody writes to must not hold the server.
    const handle = await open(path, constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0) | (constants.O_NONBLOCK ?? 0));
    const opened = await withoutLinks(handle, path);
    if (opened === undefined) await handle.close();
    return opened;
  } catch {
    return undefined;
  }
}

/** One step down, no more: no separator of any system, no hidden name, no drive or stream of Windows, nothing invisible. */
export function isPlainPart(part: string): boolean {
  return part !== '' && !part.startsWith('.') && !/[/\\:\p{Cc}\p{Cs}]/u.test(part);
}

/** Looks where the file really is after it was opened, so that no link can be slipped in between. */
async function withoutLinks(handle: FileHandle, path: string): Promise<OpenedFile | undefined> {
  const facts = await handle.stat({ bigint: true });
  if (!facts.isFile() || (await realpath(path)) !== path) return undefined;
  const there = await stat(path, { bigint: true });
  if (there.ino !== facts.ino || there.dev !== facts.dev) return undefined;
  return { handle, sizeBytes: Number(facts.size), version: `"${facts.ino.toString(36)}-${facts.size.toString(36)}-${facts.mtimeNs.toString(36)}"` };
}
