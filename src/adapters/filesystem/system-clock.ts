import { setTimeout } from 'node:timers/promises';
import type { Clock } from '../../ports.ts';

/** The machine's own time, which its file systems stamp files with. */
export class SystemClock implements Clock {
  nowMs(): number {
    return Date.now();
  }

  async pause(milliseconds: number, signal: AbortSignal): Promise<void> {
    await setTimeout(milliseconds, undefined, { signal });
  }
}
