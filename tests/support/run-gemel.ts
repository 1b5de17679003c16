import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { lstatSync, readdirSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const repository = join(dirname(fileURLToPath(import.meta.url)), '..', '..');

/** Where Node keeps compiled code between the runs of the tests. */
export const compileCache = join(tmpdir(), 'gemel-test-compile-cache');

export interface GemelRun {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** Runs gemel as a user would, through its plain entry, in a folder. */
export function runGemel(args: readonly string[], cwd: string, env: Readonly<Record<string, string>> = {}): GemelRun {
  const done = spawnSync(process.execPath, [join(repository, 'bin', 'gemel.mjs'), ...args], {
    cwd,
    encoding: 'utf8',
    // Stripping types takes most of a start; later starts need not do it again.
    env: { ...process.env, COLUMNS: '110', NO_COLOR: '1', NODE_COMPILE_CACHE: compileCache, ...env },
    maxBuffer: 1 << 26,
    timeout: 180_000,
  });
  if (done.error !== undefined) throw done.error;
  return { code: done.status, out: done.stdout, err: done.stderr };
}

/** Every file and folder below a folder with its kind, size, time of change and SHA-256: equal before and after means nothing was touched. */
export function fingerprintTree(folder: string): readonly string[] {
  return walk(Buffer.from(folder)).toSorted();
}

/** Names stay bytes: a name that is not UTF-8 must be found again. */
function walk(folder: Buffer): readonly string[] {
  return readdirSync(folder, { encoding: 'buffer' }).flatMap((name) => {
    const path = Buffer.concat([folder, Buffer.from('/'), name]);
    const facts = lstatSync(path);
    const readable = facts.isFile() && (facts.mode & 0o400) !== 0;
    const line = `${path.toString('latin1')} ${facts.mode} ${facts.size} ${facts.mtimeMs} ${readable ? createHash('sha256').update(readFileSync(path)).digest('hex') : ''}`;
    return facts.isDirectory() ? [line, ...walk(path)] : [line];
  });
}
