import { readdir } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { isWithin } from './media-roots.ts';
import { isClutter, isPassedOver } from './passed-over.ts';

/**
 * Whether any folder below these holds files, by their names, that answer `test`; ends at the first that does. Folders that cannot be looked into count as
 * holding some, since nobody can say they do not.
 */
export async function someFolder(folders: readonly string[], leftOut: readonly string[], test: (names: readonly string[]) => boolean, signal: AbortSignal): Promise<boolean> {
  const left = leftOut.map((folder) => resolve(folder));
  const waiting = [...folders];
  for (let folder = waiting.shift(); folder !== undefined; folder = waiting.shift()) {
    signal.throwIfAborted();
    const entries = await readdir(folder, { withFileTypes: true }).catch(() => undefined);
    if (entries === undefined) return true;
    const named = entries.filter(({ name }) => !isClutter(name));
    if (test(named.filter((entry) => entry.isFile()).map(({ name }) => name))) return true;
    const here = folder;
    const below = named.filter((entry) => entry.isDirectory() && !isPassedOver(entry.name)).map(({ name }) => join(here, name));
    waiting.push(...below.filter((path) => !left.some((out) => isWithin(path, out))));
  }
  return false;
}
