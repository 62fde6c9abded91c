/**
 * The slow soak: `npm run build && npm run soak`, or `npm run soak -- 200` for fewer kills in all. Eight
 * processes issue and record at once and are killed outright at random moments, half of the times on each store.
 */
import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const kills = Number(process.argv[2] ?? 1000);
if (!Number.isInteger(kills) || kills < 50 || kills % 2) {
  console.error('Usage: npm run soak -- [kills in all, an even number from 50]');
  process.exit(2);
}
const root = fileURLToPath(new URL('../../', import.meta.url));
const vitest = fileURLToPath(new URL('./vitest.mjs', import.meta.resolve('vitest/package.json')));
// The same test that `npm run test:slow` runs in small, so that the two cannot drift apart.
spawn(process.execPath, [vitest, 'run', '--mode', 'slow', 'tests/soak', '--disable-console-intercept'], {
  cwd: root,
  stdio: 'inherit',
  env: { ...process.env, SOAK_KILLS: String(kills) },
}).on('exit', (code) => process.exit(code ?? 1));
