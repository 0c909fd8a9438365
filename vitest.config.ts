import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    // Slow, with a run of their own: `npm run crash`.
    exclude: ['tests/crash/**', '**/node_modules/**'],
    setupFiles: ['tests/support/setup.ts'],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    reporters: ['default', './tests/support/counts.ts'],
  },
});
