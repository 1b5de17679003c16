/** Compares by code units, so that the order is the same in every language and on every machine. */
export function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** A sorted copy, by the text `key` gives for each entry. */
export function sortedBy<T>(entries: readonly T[], key: (entry: T) => string): readonly T[] {
  return entries.toSorted((a, b) => compareText(key(a), key(b)));
}

/** A number as it is written out: whole millionths, no minus zero; "infinity" (focus) and null (not a number) where JSON has no number. */
export function tidyNumber(value: number): number | string | null {
  if (Number.isNaN(value)) return null;
  if (!Number.isFinite(value)) return value > 0 ? 'infinity' : '-infinity';
  return Math.round(value * 1e6) / 1e6 + 0;
}
