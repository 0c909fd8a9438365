import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';
import { LongFirst } from './tests/support/long-first.ts';
import { runs } from './tests/support/runs.ts';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    // Slow, with runs of their own: `npm run crash`, `npm run installed`, `npm run browser`.
    exclude: ['tests/crash/**', 'tests/deploy/installed/**', 'tests/browser/**', '**/node_modules/**'],
    // One process a worker for all its files: starting anew and reading packages and content again took most of the time.
    isolate: false,
    // Gateways, kills and clocks are waited for: with a worker a processor a third of the time went by unused.
    maxWorkers: Math.ceil(availableParallelism() * 1.5),
    sequence: { sequencer: LongFirst },
    globalSetup: ['tests/support/memory-folder.ts'],
    setupFiles: ['tests/support/setup.ts'],
    testTimeout: runs(60_000, 3_600_000),
    hookTimeout: 60_000,
    reporters: ['default', './tests/support/counts.ts'],
  },
});
