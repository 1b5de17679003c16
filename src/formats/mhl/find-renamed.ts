import { differingFormats, trustedFormats } from './compare.ts';
import type { Digests, HashFormat } from './hash-format.ts';
import type { KnownFile } from './history.ts';

/**
 * New names of missing files, by old path: where exactly one unknown file has the bytes of exactly one missing one. Several alike
 * are not told apart by guessing.
 */
export function findRenamed(missing: readonly KnownFile[], candidates: ReadonlyMap<string, Digests>): ReadonlyMap<string, string> {
  const byDigest = new Map<string, string[]>();
  for (const [name, digests] of candidates) {
    for (const [format, digest] of Object.entries(digests)) {
      const key = `${format} ${digest}`;
      byDigest.set(key, [...(byDigest.get(key) ?? []), name]);
    }
  }
  const pairs: { readonly path: string; readonly name: string }[] = [];
  const claims = new Map<string, number>();
  for (const file of missing) {
    const names = new Set(trustedFormats(file).flatMap((format) => byDigest.get(`${format} ${file.trusted.get(format)?.value ?? ''}`) ?? []));
    const same = [...names].filter((name) => differingFormats(file, candidates.get(name) ?? {}).length === 0);
    for (const name of same) claims.set(name, (claims.get(name) ?? 0) + 1);
    const [name] = same;
    if (same.length === 1 && name !== undefined) pairs.push({ path: file.path, name });
  }
  return new Map(pairs.filter(({ name }) => claims.get(name) === 1).map(({ path, name }) => [path, name]));
}

/** In which formats an unknown file of a size must be read to tell whether it is one of the missing ones; none when it cannot be. */
export function renameFormats(missing: readonly KnownFile[]): (sizeBytes: number) => readonly HashFormat[] {
  const bySize = new Map<number | undefined, Set<HashFormat>>();
  for (const file of missing) {
    const formats = bySize.get(file.sizeBytes) ?? new Set<HashFormat>();
    for (const format of trustedFormats(file)) formats.add(format);
    bySize.set(file.sizeBytes, formats);
  }
  return (sizeBytes) => [...new Set([...(bySize.get(sizeBytes) ?? []), ...(bySize.get(undefined) ?? [])])].toSorted();
}
