// One process that issues numbers one at a time, from the built program: FILE-OR-URL NAME COUNT.
// It says what it is about to ask and what it was given, each line written before it goes on. It ends with its input.
import { writeSync } from 'node:fs';
import { plannedCount } from '../../dist/edition/labels.js';
import { openRegister } from '../../dist/register/open.js';

const [where, name, count] = process.argv.slice(2);
const planned = plannedCount({ id: 'main', from: 1, to: 50_000, figures: 'arabic', pad: 5, exclude: [] });
const place = where.startsWith('postgres:')
  ? { kind: 'postgres', url: where }
  : { kind: 'sqlite', file: where };
// A server that comes back may take its time on a busy machine.
const register = await openRegister(place, { now: () => new Date(), retryForMs: 120_000 });
let stopped = false;
process.stdin.on('end', () => {
  stopped = true;
});
process.stdin.resume().unref?.();
for (let i = 1; i <= Number(count) && !stopped; i++) {
  const key = `${name}-${i}`;
  writeSync(1, `asked ${key}\n`);
  const [got] = await register.issue({
    edition: 'nine-lights',
    series: 'main',
    planned,
    count: 1,
    by: name,
    key,
  });
  writeSync(1, `given ${key} ${got.number}\n`);
}
await register.close();
