import { spawn } from 'node:child_process';
import { access } from 'node:fs/promises';
import { setTimeout as wait } from 'node:timers/promises';
import { LONGEST_SILENCE_MS, stalledError, stallWatch } from './stall-watch.ts';

const LOOK_EVERY_MS = 20;
const STDERR_CHARS = 4000;

/**
 * Runs a program that writes numbered files, each whole or absent, and tells of each as it appears, in order, while the program
 * goes on. `files` are their paths in order. @throws {Error} when it does not start, is silent for `stallMs`, `done` throws, or the signal fires; the
 * program has ended then.
 */
export async function writePictures(program: string, args: readonly string[], files: readonly string[], done: (index: number) => Promise<void>, signal: AbortSignal, stallMs = LONGEST_SILENCE_MS): Promise<{ readonly pictures: number; readonly said: string; readonly code: number | null }> {
  signal.throwIfAborted();
  const child = spawn(program, [...args], { stdio: ['ignore', 'ignore', 'pipe'], windowsHide: true });
  const closed = new Promise<number | null>((resolve, reject) => {
    child.once('error', reject);
    child.once('close', resolve);
  });
  // Whoever throws first below is heard; this one must not count as unhandled meanwhile.
  closed.catch(() => {});
  let hasEnded = false;
  const ended = closed.then(() => { hasEnded = true; }, () => { hasEnded = true; });
  const stop = (): void => void child.kill('SIGKILL');
  signal.addEventListener('abort', stop, { once: true });
  const watch = stallWatch(stallMs, stop);
  let said = '';
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    said = (said + text).slice(-STDERR_CHARS);
  });
  let pictures = 0;
  try {
    for (;;) {
      // Asked before looking: what appears after the look and before the end would be missed.
      const isLast = hasEnded;
      for (let file = files[pictures]; file !== undefined && (await isThere(file)); file = files[pictures]) {
        signal.throwIfAborted();
        await done(pictures);
        pictures += 1;
        watch.alive();
      }
      if (isLast) break;
      await Promise.race([ended, wait(LOOK_EVERY_MS)]);
    }
    const code = await closed;
    signal.throwIfAborted();
    if (watch.stalled()) throw stalledError(stallMs);
    return { pictures, said, code };
  } finally {
    watch.end();
    signal.removeEventListener('abort', stop);
    stop();
    await ended;
  }
}

async function isThere(path: string): Promise<boolean> {
  return access(path).then(() => true, () => false);
}
