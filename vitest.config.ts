import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { configDefaults, defineConfig } from 'vitest/config';

const ROOMS_REPORTER = fileURLToPath(new URL('./tests/house/rooms-reporter.cjs', import.meta.url));

/** Of every room, so much is reached by the tests of every day, per cent; below it `npm run coverage` fails. */
const LEAST = { lines: 90, branches: 90 };
const thresholds = Object.fromEntries(
  readdirSync(new URL('./src', import.meta.url), { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => [`src/${name}/**`, LEAST]),
);

/**
 * `vitest run` runs the tests of every day; `vitest run --mode slow` runs `*.slow.test.ts`: the same properties over
 * many more cases. `npm run coverage` measures how much of each room the former reach.
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
      // Most of what tests make is thrown away at once; so much of it, MB, is kept before that is looked through.
      execArgv: ['--max-semi-space-size=64'],
      // The house has no state in its modules (`tests/house/state.test.ts`), so files may share what they load.
      isolate: false,
      // No test may write into the register of whoever runs it.
      setupFiles: ['tests/no-register.ts'],
      globalSetup: ['tests/bundle.ts', 'tests/memory-folder.ts'],
      coverage: {
        provider: 'v8' as const,
        include: ['src/**/*.ts'],
        thresholds,
        // A reporter of our own is known by its path, which the type does not foresee.
        reporter: [[ROOMS_REPORTER as 'text', {}]],
      },
    },
  };
});
