/** A table looked up by words from outside has no prototype: a column called "constructor" finds nothing. */
export function table<T>(entries: Iterable<readonly [string, T]>): Readonly<Record<string, T>> {
  const made: Record<string, T> = Object.create(null);
  for (const [key, value] of entries) made[key] = value;
  return made;
}
