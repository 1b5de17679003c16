import { realpath } from 'node:fs/promises';
import { DiskStore } from '../adapters/filesystem/disk-store.ts';
import { UnreachableFileError, UsageError } from '../core/material/errors.ts';

/** Files people write by hand, and packages' own lists. */
const MOST_BYTES = 64 * 1024 * 1024;

/**
 * The text of a file that a user named; a link to it is followed. @throws {UsageError} when it cannot be read: `what` says what it
 * should have been. A pipe or device is refused, not waited for.
 */
export async function readNamedText(path: string, what: string): Promise<string> {
  try {
    return await readPlainText(await realpath(path).catch(() => path));
  } catch (cause) {
    if (cause instanceof UnreachableFileError) throw new UsageError([`${what} ${path} cannot be read: ${cause.reason}; ${cause.remedy}`]);
    throw cause;
  }
}

/** The text of a file that lies somewhere: never by a link, never beyond the limit. @throws {UnreachableFileError} when it cannot be read. */
export async function readPlainText(path: string): Promise<string> {
  return new TextDecoder().decode(await new DiskStore([]).readWhole(path, MOST_BYTES, AbortSignal.timeout(60_000)));
}
