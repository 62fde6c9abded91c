/**
 * The slow soaks, on a fresh build: `npm run soak` runs all.
 * `npm run soak -- kills 200`: eight processes issue and record at once and are killed at random moments, half of the times
 * on each store; a thousand kills when left out.
 * `npm run soak -- workshops 500 7`: random workshops from seed 7 on are carried through check, fit, issue and cut until
 * 500 have passed `check`; five thousand from seed 10000 when left out. `npm run soak -- workshops 500 7 1` does so in one
 * process instead of two.
 * `npm run soak -- faults 10`: each fault that `tests/fixtures/faults` names is planted so often in programs of all kinds;
 * ten times when left out. `npm run soak -- mutants 20000`: so many programs are changed by chance and read.
 */
import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const [which = 'all', count, seed = '10000', processes = '2'] = process.argv.slice(2);
const number = count === undefined ? undefined : Number(count);
const least = { kills: 50, workshops: 1, faults: 1, mutants: 1 }[which];
const known = which === 'all' || (least !== undefined && (number ?? least) >= least);
if (
  !known ||
  !Number.isInteger(number ?? 0) ||
  !Number.isInteger(Number(seed)) ||
  !/^[1-9][0-9]?$/.test(processes) ||
  (which === 'kills' && (number ?? 0) % 2)
) {
  console.error(
    'Usage: npm run soak [-- kills <an even number from 50> | workshops <number> <first seed> <processes> | faults <times> | mutants <number>]',
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

const isAsked = (one) => which === one || which === 'all';

let code = 0;
if (isAsked('kills')) code ||= await run('tests/soak/soak.slow', { SOAK_KILLS: String(number ?? 1000) });
if (isAsked('workshops'))
  code ||= await run('tests/soak/random-workshops.slow', {
    SOAK_WORKSHOPS: String(number ?? 5000),
    SOAK_SEED: seed,
    SOAK_PROCESSES: processes,
  });
if (isAsked('faults'))
  code ||= await run('tests/app/planted-faults.slow', { SOAK_VARIANTS: String(number ?? 10) });
if (isAsked('mutants'))
  code ||= await run('tests/app/mutated-programs.slow', { SOAK_MUTANTS: String(number ?? 20_000) });
process.exit(code);
