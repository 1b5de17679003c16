import { setTimeout as wait } from 'node:timers/promises';
import type { Clock } from '../ports.ts';

/** The machine's clock, for telling files that are still being copied. */
export const systemClock: Clock = {
  nowMs: () => Date.now(),
  pause: async (milliseconds, signal) => wait(milliseconds, undefined, { signal }),
};
