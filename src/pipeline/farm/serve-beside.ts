import { availableParallelism } from 'node:os';
import type { Workshop } from '../workshop.ts';

/** More threads of decoding than these ask more of memory than they give. */
const MOST_DECODES = 4;

/** Whoever puts up jobs does some as well, so that they get done where no worker runs; until it is disposed of. */
export function serveBeside({ catalogue, farm }: Workshop, signal: AbortSignal): AsyncDisposable {
  const stop = new AbortController();
  const limits = { read: 2, hash: 1, decode: Math.min(MOST_DECODES, availableParallelism()), sheet: 1 };
  const serving =
    catalogue === undefined || farm === undefined
      ? Promise.resolve()
      : import('../work-farm.ts').then(async ({ serveFarm }) => serveFarm({ ...farm, catalogue, limits }, AbortSignal.any([signal, stop.signal])));
  return {
    [Symbol.asyncDispose]: async () => {
      stop.abort();
      await serving;
    },
  };
}
