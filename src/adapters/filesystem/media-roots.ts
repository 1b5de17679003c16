import { realpath } from 'node:fs/promises';
import { basename, resolve, sep } from 'node:path';

/** A media folder, and what stands before the name of every file in it: "" when it is the only one. */
export interface MediaRoot {
  readonly path: string;
  readonly prefix: string;
}

/**
 * The folders to walk, in order of their paths. A folder that lies in another of them is left out, for its files are listed
 * there. Several folders are told apart by their base names: "day03", "day03-2".
 */
export async function mediaRoots(folders: readonly string[]): Promise<readonly MediaRoot[]> {
  const byRealPath = new Map<string, string>();
  for (const folder of folders) {
    const path = resolve(folder);
    const real = await realpath(path).catch(() => path);
    const known = byRealPath.get(real);
    if (known === undefined || path < known) byRealPath.set(real, path);
  }
  const reals = [...byRealPath.keys()];
  const outermost = reals.filter((real) => !reals.some((other) => other !== real && isWithin(real, other)));
  const paths = outermost.map((real) => byRealPath.get(real) ?? real).toSorted((a, b) => (a < b ? -1 : 1));
  if (paths.length === 1) return paths.map((path) => ({ path, prefix: '' }));
  const taken = new Set<string>();
  return paths.map((path) => ({ path, prefix: `${uniqueName(basename(path) === '' ? 'media' : basename(path), taken)}/` }));
}

/** Whether a path is that folder or lies in it. */
export function isWithin(path: string, folder: string): boolean {
  return path === folder || path.startsWith(folder.endsWith(sep) ? folder : folder + sep);
}

function uniqueName(name: string, taken: Set<string>): string {
  let unique = name;
  for (let count = 2; taken.has(unique); count++) unique = `${name}-${count}`;
  taken.add(unique);
  return unique;
}
