import { defineConfig } from 'vitest/config';

/** Installs the line on a system of its own, made for that: `npm run installed`. */
export default defineConfig({
  test: {
    include: ['tests/deploy/installed/**/*.test.ts'],
    testTimeout: 120_000,
    // Half a minute where the machine is free.
    hookTimeout: 480_000,
    maxWorkers: 1,
    fileParallelism: false,
    reporters: ['default', './tests/support/counts.ts'],
  },
});
