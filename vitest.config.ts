import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { configDefaults, defineConfig } from 'vitest/config';

/** Rooms of the house; each is held to the bar by itself. */
const ROOMS = readdirSync('src', { withFileTypes: true }).flatMap((e) => (e.isDirectory() ? [e.name] : []));
const ROOMS_REPORTER = fileURLToPath(new URL('./tests/house/rooms-reporter.cjs', import.meta.url));
const BAR = { lines: 90, branches: 90 };

/**
 * `vitest run` runs the tests of every day; `vitest run --mode slow` runs `*.slow.test.ts`: the same properties over
 * many more cases. `npm run coverage`, and CI, measure how much of
 * each room the former reach.
 */
export default defineConfig(({ mode }) => {
  const slow = mode === 'slow';
  return {
    test: {
      include: slow ? ['tests/**/*.slow.test.ts'] : ['tests/**/*.test.ts'],
      exclude: [...configDefaults.exclude, ...(slow ? [] : ['tests/**/*.slow.test.ts'])],
      // A busy machine may be many times slower than a quiet one; no test is held to a time of its own.
      testTimeout: slow ? 900_000 : 180_000,
      hookTimeout: slow ? 900_000 : 180_000,
      pool: 'forks' as const,
      maxWorkers: 2,
      // No test may write into the register of whoever runs it.
      env: { BURIN_REGISTER: '' },
      coverage: {
        provider: 'v8' as const,
        include: ['src/**/*.ts'],
        // A reporter of our own is known by its path, which the type does not foresee.
        reporter: [[ROOMS_REPORTER as 'text', {}]],
        enabled: !slow && process.env.CI === 'true',
        thresholds: Object.fromEntries(ROOMS.map((room) => [`src/${room}/**`, BAR])),
      },
    },
  };
});
