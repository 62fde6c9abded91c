/**
 * Carries workshops through check, fit, issue and cut, one after the other in this process, and prints what became of each
 * as a line of JSON: the step reached, its exit code, its processor time and the most memory held.
 */
import { writeSync } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { run } from '../../dist/cli/run.js';

async function step(dir, words) {
  let stderr = '';
  const before = process.cpuUsage();
  const code = await run([...words, '--workshop', dir], {
    input: () => Promise.resolve(''),
    out: () => undefined,
    err: (text) => {
      stderr += text;
    },
    watched: false,
    variables: { BURIN_KEYS: join(dir, '..', 'keys') },
    now: () => 0,
  });
  const { user, system } = process.cpuUsage(before);
  return { step: words[0], code, cpuMs: Math.round((user + system) / 1000), stderr: stderr.slice(0, 600) };
}

const STEPS = [
  ['check'],
  ['fit', 'edition'],
  ['issue', 'edition', '--series', 's0', '--count', '1', '--by', 'E. Marrow'],
  ['cut', 'edition', '--series', 's0', '--station', 'station'],
];

for await (const dir of createInterface({ input: process.stdin })) {
  const steps = [];
  for (const words of STEPS) {
    writeSync(1, `${JSON.stringify({ dir, begins: words[0] })}\n`);
    const done = await step(
      dir,
      words[0] === 'cut' ? [...words, '--numbers', await firstNumber(dir)] : words,
    );
    steps.push(done);
    if (done.code !== 0) break;
  }
  writeSync(
    1,
    `${JSON.stringify({ dir, steps, rssMb: Math.round(process.resourceUsage().maxRSS / 1024) })}\n`,
  );
}

/** The first number of the first series, which was issued just now. */
async function firstNumber(dir) {
  const { readFile } = await import('node:fs/promises');
  return /from: (\d+)/.exec(await readFile(join(dir, 'editions/edition.yaml'), 'utf8'))[1];
}
