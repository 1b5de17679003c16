import { describe, expect, it } from 'vitest';
import { gate, mapBounded, withinTime } from '../../../src/steps/read/bounded.ts';

/** Work that ends only when it is let go, and counts how much of it runs at once. */
function counted() {
  let running = 0;
  let most = 0;
  const work = async <T>(result: T): Promise<T> => {
    running++;
    most = Math.max(most, running);
    await new Promise((resolve) => setImmediate(resolve));
    running--;
    return result;
  };
  return { work, most: () => most };
}

describe('work that is spread', () => {
  it('runs so many at a time, and answers in the order of the entries', async () => {
    const { work, most } = counted();
    expect(await mapBounded([3, 1, 2, 5, 4], 2, async (entry) => work([entry]))).toEqual([[3], [1], [2], [5], [4]]);
    expect(most()).toBe(2);
    expect(await mapBounded([], 2, async (entry) => entry)).toEqual([]);
  });

  it('ends with the first failure', async () => {
    await expect(mapBounded([1, 2, 3], 2, async (entry) => (entry === 2 ? Promise.reject(new Error('two')) : entry))).rejects.toThrow('two');
  });

  it('passes a gate so many at a time, failures included', async () => {
    const { work, most } = counted();
    const pass = gate(2);
    const tried = await Promise.allSettled([1, 2, 3, 4, 5].map(async (entry) => pass(async () => (entry === 2 ? Promise.reject(new Error('two')) : work(entry)))));
    expect(tried.map(({ status }) => status)).toEqual(['fulfilled', 'rejected', 'fulfilled', 'fulfilled', 'fulfilled']);
    expect(most()).toBe(2);
  });

  it('gives up on work that does not answer, and at once on the signal', async () => {
    const never = new AbortController().signal;
    await expect(withinTime(5, never, async () => new Promise(() => {}))).rejects.toThrow('no answer within 0.005 s');
    const stop = new AbortController();
    const waiting = withinTime(60_000, stop.signal, async () => new Promise(() => {}));
    stop.abort(new Error('enough'));
    await expect(waiting).rejects.toThrow('enough');
    await expect(withinTime(60_000, AbortSignal.abort(new Error('before')), async () => 1)).rejects.toThrow('before');
    expect(await withinTime(1000, never, async () => 7)).toBe(7);
  });
});
