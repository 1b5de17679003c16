/** Does work on every entry, at most `atOnce` at a time, and answers in the order of the entries. The first failure ends it. */
export async function mapBounded<T, R>(entries: readonly T[], atOnce: number, work: (entry: T) => Promise<R>): Promise<readonly R[]> {
  const results: R[] = [];
  let next = 0;
  const worker = async (): Promise<void> => {
    for (let index = next++; index < entries.length; index = next++) {
      const entry = entries[index];
      if (entry !== undefined) results[index] = await work(entry);
    }
  };
  await Promise.all(Array.from({ length: Math.min(atOnce, entries.length) }, worker));
  return results;
}

/** Lets at most `atOnce` pieces of work run at the same time; the others wait their turn. */
export function gate(atOnce: number): <R>(work: () => Promise<R>) => Promise<R> {
  let free = atOnce;
  const waiting: (() => void)[] = [];
  return async (work) => {
    if (free === 0) await new Promise<void>((resolve) => waiting.push(resolve));
    else free--;
    try {
      return await work();
    } finally {
      const next = waiting.shift();
      if (next === undefined) free++;
      else next();
    }
  };
}

/**
 * Work that is given up after `limitMs`: a share that has gone answers nothing at all, and must not hold up the day.
 * @throws {Error} after the limit, or with the signal's reason when that fires first.
 */
export async function withinTime<R>(limitMs: number, signal: AbortSignal, work: (signal: AbortSignal) => Promise<R>): Promise<R> {
  signal.throwIfAborted();
  const both = AbortSignal.any([signal, AbortSignal.timeout(limitMs)]);
  return new Promise((resolve, reject) => {
    const giveUp = (): void => reject(signal.aborted ? signal.reason : new Error(`no answer within ${limitMs / 1000} s`));
    both.addEventListener('abort', giveUp, { once: true });
    work(both)
      .then(resolve, (failure: unknown) => (both.aborted ? giveUp() : reject(failure)))
      .finally(() => both.removeEventListener('abort', giveUp));
  });
}
