import { defineConfig } from 'vitest/config';

/** Slow tests that kill processes: `npm run crash`. */
export default defineConfig({
  test: {
    include: ['tests/crash/**/*.test.ts'],
    testTimeout: 120_000,
    hookTimeout: 60_000,
    maxWorkers: 1,
    fileParallelism: false,
    reporters: ['default', './tests/support/counts.ts'],
  },
});
