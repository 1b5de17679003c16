import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    // Two cores is the size the suite is planned for: more forks only fight over ffmpeg.
    maxWorkers: 2,
  },
});
