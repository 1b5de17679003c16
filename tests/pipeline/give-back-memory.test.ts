import { describe, expect, it } from 'vitest';
import { giveBackMemory } from '../../src/pipeline/give-back-memory.ts';

/** Objects that nobody holds when this has ended, and how large the heap was with them. */
function litter(): number {
  const objects = Array.from({ length: 1_000_000 }, (_, number) => ({ number, text: `object ${number}` }));
  return objects.length > 0 ? process.memoryUsage().heapTotal : 0;
}

describe('memory that a round of a watch took', () => {
  it('goes back to the system when it is over', () => {
    giveBackMemory();
    const before = process.memoryUsage().heapTotal;
    const full = litter();
    expect(full - before).toBeGreaterThan(60e6);
    giveBackMemory();
    expect(process.memoryUsage().heapTotal - before).toBeLessThan(20e6);
  });
});
