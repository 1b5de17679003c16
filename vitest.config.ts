import { defineConfig } from 'vitest/config';
import { LongestFirst } from './tests/support/longest-first.ts';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    // Far more than any test takes on a quiet machine: a limit that a busy one reaches says nothing about gemel.
    testTimeout: 240_000,
    hookTimeout: 240_000,
    // Two cores is the size the suite is planned for; a third process works while the others wait for a farm or a watch.
    maxWorkers: 3,
    // A process for each of two hundred files takes longer than most of them. A test that changes its process puts it back.
    isolate: false,
    // Loaded by Node itself, as users run it: the runner's own way calls each import through a getter, and measuring pictures takes twice as long.
    experimental: { viteModuleRunner: false },
    sequence: { sequencer: LongestFirst },
  },
});
