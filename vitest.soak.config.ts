import { defineConfig } from 'vitest/config';

/** Long runs that are not for each push: `npm run soak`. */
export default defineConfig({
  test: {
    include: ['tests/**/*.soak.ts'],
    testTimeout: 600_000,
    hookTimeout: 600_000,
    reporters: ['default', './tests/support/counts.ts'],
  },
});
