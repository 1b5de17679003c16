import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, mkdtempSync, renameSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** Made media are kept between tests and runs: to start a program and encode takes longer than most of what is then tested. */
const place = join(tmpdir(), `gemel-test-media-${process.getuid?.() ?? 'all'}`);

/**
 * The folder that holds what this build of the program makes of these arguments and inputs; `make` fills it when nobody did before.
 * Copy out of it, never change it. It appears whole or not at all, whoever else makes the same at the same time.
 */
export function keptMedia(program: string, inputs: readonly (string | Uint8Array)[], make: (folder: string) => void): string {
  const { size, mtimeMs } = statSync(program);
  const hash = createHash('sha256');
  for (const input of [program, `${size} ${mtimeMs}`, ...inputs]) hash.update(`${input.length}:`).update(input);
  const kept = join(place, hash.digest('hex'));
  if (existsSync(kept)) return kept;
  mkdirSync(place, { recursive: true, mode: 0o700 });
  const begun = mkdtempSync(join(place, 'unfinished-'));
  try {
    make(begun);
    if (!existsSync(kept)) renameSync(begun, kept);
  } catch (failure) {
    if (!existsSync(kept)) throw failure;
  } finally {
    rmSync(begun, { recursive: true, force: true });
  }
  return kept;
}
