/**
 * Runs measurements: `npm run build && npm run bench` for all, `npm run bench -- edition` for one by name,
 * `--rounds 9` for more rounds, `--server` for a PostgreSQL of their own where one is measured too. They measure and never fail for being slow: a busy machine is no fault of the code.
 */
import { readdir } from 'node:fs/promises';
import os from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { startServer } from './server.mjs';

// Neither the register nor the keys of whoever measures.
delete process.env.BURIN_REGISTER;
process.env.BURIN_KEYS = join(os.tmpdir(), 'burin-bench-no-keys');

const here = new URL('./', import.meta.url);
const { values, positionals } = parseArgs({
  options: { rounds: { type: 'string', default: '5' }, server: { type: 'boolean', default: false } },
  allowPositionals: true,
});
const known = (await readdir(here))
  .filter((f) => f.endsWith('.bench.mjs'))
  .map((f) => f.slice(0, -'.bench.mjs'.length))
  .sort();
const strange = positionals.filter((name) => !known.includes(name));
const rounds = Number(values.rounds);
if (strange.length > 0 || !Number.isInteger(rounds) || rounds < 1) {
  console.error(`Usage: npm run bench -- [--rounds n] [--server] [${known.join(' | ')}]...`);
  process.exit(2);
}

console.log(`node ${process.versions.node}, ${os.availableParallelism()} cores, ${os.type()} ${os.arch()}`);
const server = values.server ? await startServer() : undefined;
try {
  // For what a measurement starts as well.
  if (server) process.env.BENCH_SERVER = server.url;
  for (const name of positionals.length > 0 ? positionals : known) await run(name);
} finally {
  await server?.end();
}

async function run(name) {
  const { title, measure } = await import(new URL(`${name}.bench.mjs`, here).href);
  console.log(`\n${name}: ${title}`);
  for (const part of await measure({ rounds })) {
    console.log('');
    if (typeof part === 'string') console.log(part);
    else printTable(part);
  }
}

/** Columns of words to the left, of figures to the right. */
function printTable(rows) {
  const columns = Object.keys(rows[0]);
  const cells = [columns, ...rows.map((row) => columns.map((c) => String(row[c] ?? '')))];
  const widths = columns.map((_, k) => Math.max(...cells.map((row) => row[k].length)));
  const figures = columns.map((_, k) => cells.slice(1).every((row) => /^[\d.]*$/.test(row[k])));
  for (const row of cells)
    console.log(
      row
        .map((cell, k) => (figures[k] ? cell.padStart(widths[k]) : cell.padEnd(widths[k])))
        .join('  ')
        .trimEnd(),
    );
}
