import { isAbsolute, relative, resolve, sep } from 'node:path';
import { UsageError } from '../../core/material/errors.ts';

/** Shared volumes by name, and where each lies on this machine: `{ shuttle: '/Volumes/SHUTTLE_01' }`. */
export type Mounts = Readonly<Record<string, string>>;

/** A path that means the same on every machine: below a named volume ("/" between folders), or (without a name) as it is written. */
export interface SharedPath {
  readonly mount: string;
  readonly path: string;
}

/** The shared form of an absolute path: below the innermost named volume that holds it. */
export function toShared(path: string, mounts: Mounts): SharedPath {
  const holding = Object.entries(mounts)
    .map(([mount, folder]) => ({ mount, folder, below: relative(folder, path) }))
    .filter(({ below }) => below !== '' && !below.startsWith('..') && !isAbsolute(below))
    .toSorted((a, b) => b.folder.length - a.folder.length)[0];
  return holding === undefined ? { mount: '', path } : { mount: holding.mount, path: holding.below.split(sep).join('/') };
}

/**
 * Where a shared path lies on this machine.
 * @throws {Error} when this machine does not know the volume, or the path would lead out of it.
 */
export function fromShared({ mount, path }: SharedPath, mounts: Mounts): string {
  if (mount === '') {
    if (!isAbsolute(path)) throw new Error(`"${path}" is no absolute path`);
    return path;
  }
  const folder = mounts[mount];
  if (folder === undefined) throw new Error(`this worker does not know the volume "${mount}"; start it with --mount ${mount}=FOLDER`);
  const parts = path.split('/');
  if (parts.includes('..') || parts.includes('') || path.includes('\0')) throw new Error(`"${path}" leads out of the volume "${mount}"`);
  return resolve(folder, ...parts);
}

/**
 * Reads `shuttle=/Volumes/SHUTTLE_01` and its like.
 * @throws {UsageError} naming each that is not of that form.
 */
export function parseMounts(written: readonly string[]): Mounts {
  const problems = written.filter((one) => !/^[\w-]+=./u.test(one));
  if (problems.length > 0) throw new UsageError(problems.map((one) => `--mount ${one}: expected NAME=FOLDER, the name in letters, digits, "-" and "_"`));
  return Object.fromEntries(written.map((one) => [one.slice(0, one.indexOf('=')), resolve(one.slice(one.indexOf('=') + 1))]));
}
