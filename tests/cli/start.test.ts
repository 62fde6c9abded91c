import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, test } from 'vitest';
import { main } from './burin.js';
import { cleanAfterAll, newFolder } from './folders.js';

cleanAfterAll();

const hook = fileURLToPath(new URL('./packages-loaded.mjs', import.meta.url));
const folder = newFolder();
const bench = join(folder, 'bench');
const env = { ...process.env, BURIN_KEYS: join(folder, 'keys'), PACKAGES: join(folder, 'packages') };
const run = (...args: string[]) => execFileSync(process.execPath, args, { env, stdio: 'pipe' });

/** The packages whose modules the command has the program load. */
function packagesOf(...words: string[]): string[] {
  const list = join(newFolder(), 'loaded');
  execFileSync(process.execPath, ['--import', hook, main, ...words], {
    env: { ...env, PACKAGES: list },
    stdio: 'pipe',
  });
  const urls = readFileSync(list, 'utf8').split('\n');
  expect(urls.some((url) => url.endsWith('/dist/cli/run.js'))).toBe(true);
  const names = urls.flatMap((url) => /.*\/node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(url)?.[1] ?? []);
  return [...new Set(names)].sort();
}

beforeAll(() => {
  run(main, 'new', bench, '--from', 'nine-lights');
  // Without a key there would be something to word.
  run(main, 'key', 'new', '--workshop', bench);
});

/** What a command needs to read documents and write to a register, and nothing that draws, cuts or calls a server. */
const KEEPING = ['better-sqlite3', 'canonicalize', 'commander', 'kysely', 'robust-predicates', 'yaml', 'zod'];
const ISSUE = ['issue', 'nine-lights', '--series', 'main', '--count', '1', '--by', 'A. Moss'];

describe('a command loads no package before it has work for it', () => {
  test.each<[string, string[], string[]]>([
    ['--version', ['--version'], ['commander']],
    ['--help', ['--help'], ['commander']],
    // The font of the number is read: what it cannot cut is not issued.
    ['issue', [...ISSUE, '--workshop', bench], [...KEEPING, 'saxes', 'svgpath'].sort()],
    ['register', ['register', 'nine-lights', '--workshop', bench], KEEPING],
  ])('%s', (_, words, packages) => {
    expect(packagesOf(...words)).toEqual(packages);
  });

  test('one that draws is found', () => {
    expect(packagesOf('fit', 'nine-lights', '--workshop', bench)).toEqual(
      expect.arrayContaining(['clipper2-ts', 'saxes']),
    );
  });
});
