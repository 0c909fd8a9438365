import { defineConfig } from 'vitest/config';

/** Plays patients on the page of the phone bench, in a browser: `npm run browser`. */
export default defineConfig({
  test: {
    include: ['tests/browser/**/*.test.ts'],
    globalSetup: ['tests/support/memory-folder.ts'],
    testTimeout: 120_000,
    hookTimeout: 60_000,
    maxWorkers: 1,
    fileParallelism: false,
    reporters: ['default', './tests/support/counts.ts'],
  },
});
