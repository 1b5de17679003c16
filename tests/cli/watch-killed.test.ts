import { describe, expect, it } from 'vitest';
import { killWatch } from '../../bench/kill-bench.ts';

describe('a watch that is killed again and again while its media change', () => {
  it('never leaves half a result or a harmed catalogue, and comes to what a run that was never killed makes', async () => {
    expect(await killWatch(3)).toMatchObject({ kills: 3, faults: [] });
  }, 180_000);
});
