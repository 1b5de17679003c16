/** Does work on every entry, at most `atOnce` at a time. The first failure ends it. */
export async function atOnce<T>(entries: readonly T[], most: number, work: (entry: T) => Promise<void>): Promise<void> {
  const waiting = entries.values();
  const worker = async (): Promise<void> => {
    for (const entry of waiting) await work(entry);
  };
  await Promise.all(Array.from({ length: Math.min(most, entries.length) }, worker));
}
