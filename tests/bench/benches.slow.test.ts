import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test, vi } from 'vitest';

// Not the keys of whoever runs the tests.
vi.stubEnv('BURIN_KEYS', join(tmpdir(), 'burin-bench-no-keys'));

test('the edition bench runs, on a few pieces', async () => {
  const bench: { measure(of: { rounds: number; pieces: number }): Promise<unknown[]> } = await import(
    // @ts-expect-error: a script without types
    './edition.bench.mjs'
  );
  const parts = await bench.measure({ rounds: 1, pieces: 3 });
  expect(parts.join('\n')).toMatch(/^17 files, [\d.]+ MB, 1 rounds, ms:$/m);
});
