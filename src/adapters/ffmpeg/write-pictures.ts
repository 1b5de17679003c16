import { access } from 'node:fs/promises';
import { setTimeout as wait } from 'node:timers/promises';
import { ProgramAtWork } from './program-at-work.ts';
import { LONGEST_SILENCE_MS, stalledError } from './stall-watch.ts';

const LOOK_EVERY_MS = 20;

/**
 * Runs a program that writes numbered files, each whole or absent, and tells of each as it appears, in order, while the program
 * goes on. `files` are their paths in order. @throws {Error} when it does not start, is silent for `stallMs`, `done` throws, or the signal fires; the
 * program has ended then.
 */
export async function writePictures(program: string, args: readonly string[], files: readonly string[], done: (index: number) => Promise<void>, signal: AbortSignal, stallMs = LONGEST_SILENCE_MS): Promise<{ readonly pictures: number; readonly said: string; readonly code: number | null }> {
  await using work = new ProgramAtWork(program, args, { stdio: ['ignore', 'ignore', 'pipe'], stallMs, signal });
  let pictures = 0;
  for (;;) {
    // Asked before looking: what appears after the look and before the end would be missed.
    const isLast = work.hasEnded;
    for (let file = files[pictures]; file !== undefined && (await isThere(file)); file = files[pictures]) {
      signal.throwIfAborted();
      await done(pictures);
      pictures += 1;
      work.alive();
    }
    if (isLast) break;
    await Promise.race([work.over(), wait(LOOK_EVERY_MS)]);
  }
  const { code, said, stalled } = await work.end();
  if (stalled) throw stalledError(stallMs);
  return { pictures, said, code };
}

async function isThere(path: string): Promise<boolean> {
  return access(path).then(() => true, () => false);
}
