import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    testTimeout: 400_000,
    hookTimeout: 400_000,
    pool: 'forks',
    maxWorkers: 2,
    // No test may write into the register of whoever runs it.
    env: { BURIN_REGISTER: '' },
  },
});
