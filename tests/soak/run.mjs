/**
 * The slow soaks, on a fresh build: `npm run soak` runs both.
 * `npm run soak -- kills 200`: eight processes issue and record at once and are killed at random moments, half of the times
 * on each store; a thousand kills when left out.
 * `npm run soak -- workshops 500 7`: random workshops from seed 7 on are carried through check, fit, issue and cut until
 * 500 have passed `check`; five thousand from seed 10000 when left out. `npm run soak -- workshops 500 7 1` does so in one
 * process instead of two.
 */
import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const [which = 'both', count, seed = '10000', processes = '2'] = process.argv.slice(2);
const number = count === undefined ? undefined : Number(count);
const least = { kills: 50, workshops: 1 }[which];
const known = which === 'both' || (least !== undefined && (number ?? least) >= least);
if (
  !known ||
  !Number.isInteger(number ?? 0) ||
  !Number.isInteger(Number(seed)) ||
  !/^[1-9][0-9]?$/.test(processes) ||
  (which === 'kills' && (number ?? 0) % 2)
) {
  console.error(
    'Usage: npm run soak [-- kills <an even number from 50> | workshops <number> <first seed> <processes>]',
  );
  process.exit(2);
}

const root = fileURLToPath(new URL('../../', import.meta.url));
const vitest = fileURLToPath(new URL('./vitest.mjs', import.meta.resolve('vitest/package.json')));

/** Runs the test that `npm run test:slow` runs in small, so that the two cannot drift apart. */
const run = (test, variables) =>
  new Promise((resolve) => {
    const words = ['run', '--mode', 'slow', test, '--disable-console-intercept'];
    const env = { ...process.env, ...variables };
    spawn(process.execPath, [vitest, ...words], { cwd: root, stdio: 'inherit', env }).on('exit', (code) =>
      resolve(code ?? 1),
    );
  });

let code = 0;
if (which !== 'workshops') code ||= await run('tests/soak/soak.slow', { SOAK_KILLS: String(number ?? 1000) });
if (which !== 'kills')
  code ||= await run('tests/soak/random-workshops.slow', {
    SOAK_WORKSHOPS: String(number ?? 5000),
    SOAK_SEED: seed,
    SOAK_PROCESSES: processes,
  });
process.exit(code);
