import { spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { spread } from './rounds.mjs';

const main = fileURLToPath(new URL('../../dist/bin/burin.js', import.meta.url));
const cpu = new URL('cpu.mjs', import.meta.url).href;

export const title = 'processor time from the start of a command to its end';

const SIDES = `node       a process that does nothing
others     the command, on a copy of the sample workshop with seven numbers issued
User and system time of the whole process, as it tells itself at its end; the sides take turns. What the environment
tells Node itself is left out: NODE_EXTRA_CA_CERTS alone makes it read a file of certificates at each start.`;

/** Milliseconds of processor time that the process took. */
function run(args, env) {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, ['--import', cpu, ...args], {
      env,
      stdio: ['ignore', 'ignore', 'pipe', 'ipc'],
    });
    let taken;
    let said = '';
    child.stderr.on('data', (text) => {
      said += text;
    });
    child.on('message', (ms) => {
      taken = ms;
    });
    child.on('close', (code) =>
      code === 0 && taken !== undefined ? resolve(taken) : reject(new Error(`${args.join(' ')}: ${said}`)),
    );
  });
}

export async function measure({ rounds }) {
  const dir = await mkdtemp(join(tmpdir(), 'bench-start-'));
  const bench = join(dir, 'bench');
  const env = {
    ...process.env,
    BURIN_KEYS: join(dir, 'keys'),
    BURIN_REGISTER: undefined,
    NODE_EXTRA_CA_CERTS: undefined,
    NODE_OPTIONS: undefined,
  };
  const of = (...words) => [main, ...words, '--workshop', bench];
  const issue = (count) =>
    of('issue', 'nine-lights', '--series', 'main', '--count', count, '--by', 'A. Moss');
  try {
    await run([main, 'new', bench, '--from', 'nine-lights'], env);
    await run(issue('7'), env);
    const sides = {
      node: ['-e', ''],
      '--version': [main, '--version'],
      '--help': [main, '--help'],
      register: of('register', 'nine-lights'),
      issue: issue('1'),
    };
    const times = Object.fromEntries(Object.keys(sides).map((name) => [name, []]));
    for (let i = -1; i < rounds; i++)
      for (const [name, args] of Object.entries(sides)) {
        const taken = await run(args, env);
        if (i >= 0) times[name].push(taken);
      }
    return [
      SIDES,
      Object.entries(times).map(([name, all]) => ({
        'ms of': name,
        ...spread(all),
      })),
    ];
  } finally {
    await rm(dir, { recursive: true, force: true });
  }
}
