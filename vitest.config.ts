import { defineConfig } from 'vitest/config';
import { LongestFirst } from './tests/support/longest-first.ts';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    // Far more than any test takes on a quiet machine: a limit that a busy one reaches says nothing about gemel.
    testTimeout: 240_000,
    hookTimeout: 240_000,
    // Two cores is the size the suite is planned for: more forks only fight over ffmpeg.
    maxWorkers: 2,
    // A process for each of two hundred files takes longer than most of them. A test that changes its process puts it back.
    isolate: false,
    sequence: { sequencer: LongestFirst },
  },
});
