import { defineConfig } from 'vitest/config';
import { runs } from './tests/support/runs.ts';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    // Slow, with a run of their own: `npm run crash`.
    exclude: ['tests/crash/**', '**/node_modules/**'],
    // One process a worker for all its files: starting anew and reading packages and content again took most of the time.
    isolate: false,
    // The default leaves one processor to itself: half of a machine with two.
    maxWorkers: '100%',
    globalSetup: ['tests/support/memory-folder.ts'],
    setupFiles: ['tests/support/setup.ts'],
    testTimeout: runs(60_000, 3_600_000),
    hookTimeout: 60_000,
    reporters: ['default', './tests/support/counts.ts'],
  },
});
