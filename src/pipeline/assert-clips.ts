import { someFolder } from '../adapters/filesystem/some-folder.ts';
import type { Config } from '../config/resolved.ts';
import { UsageError } from '../core/material/errors.ts';
import { sortFiles } from '../steps/read/sort-files.ts';

/** A card that is not mounted leaves an empty folder behind: no clip at all is no good day. @throws {UsageError} before anything is written. */
export async function assertClips({ media, out }: Pick<Config, 'media' | 'out'>, signal: AbortSignal): Promise<void> {
  const holdsClip = (names: readonly string[]): boolean => {
    const { movies, sequences } = sortFiles(names.map((file) => ({ file, path: file, sizeBytes: 0, modifiedMs: 0 })));
    return movies.length > 0 || sequences.length > 0;
  };
  if (await someFolder(media, [out], holdsClip, signal)) return;
  throw new UsageError([`there is no clip below ${media.join(', ')}: is the card mounted, and is it the right folder? Nothing was judged and nothing was written`]);
}
