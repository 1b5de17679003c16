import { join } from 'node:path';
import { LockHeldError, takeWriterLock } from '../adapters/catalogue/writer-lock.ts';
import { UsageError } from '../core/material/errors.ts';
import { ownFolder } from './open-catalogue.ts';

const NO_LOCK: AsyncDisposable = { [Symbol.asyncDispose]: async () => {} };

/**
 * Holds an output folder for one writer; `doing` is what others are told of it ("gemel watch"). Where the file system knows no
 * locks, a warning says so.
 * @throws {UsageError} when another gemel writes there.
 */
export async function lockOutput(out: string, doing: string, warnings: string[]): Promise<AsyncDisposable> {
  try {
    return await takeWriterLock(join(ownFolder(out), 'writer.lock'), doing);
  } catch (problem) {
    if (problem instanceof LockHeldError) {
      throw new UsageError([`${out} is being written to by another gemel (${problem.holder}); stop that one, or give --out FOLDER another folder`]);
    }
    warnings.push(`${out} cannot be locked (${problem instanceof Error ? problem.message : String(problem)}): make sure that no other gemel writes there`);
    return NO_LOCK;
  }
}
