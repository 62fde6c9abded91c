import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, test } from 'vitest';
import { main, well } from './burin.js';
import { cleanAfterAll, newFolder, newQuickBench } from './folders.js';

cleanAfterAll();

const hook = fileURLToPath(new URL('./packages-loaded.mjs', import.meta.url));
const folder = newFolder();
const bench = join(folder, 'bench');
const env = { ...process.env, BURIN_KEYS: join(folder, 'keys'), PACKAGES: join(folder, 'packages') };

/** The URLs of the files that the command has the program load. */
function filesOf(...words: string[]): string[] {
  const list = join(newFolder(), 'loaded');
  execFileSync(process.execPath, ['--import', hook, main, ...words], {
    env: { ...env, PACKAGES: list },
    stdio: 'pipe',
  });
  const urls = readFileSync(list, 'utf8').split('\n');
  expect(urls.some((url) => url.endsWith('/dist/bin/burin.js'))).toBe(true);
  return urls.filter((url) => url.startsWith('file:'));
}

/** What a file was made of, by its source map; a file that was not bundled is its own source. */
function sourcesOf(url: string): string[] {
  const map = new URL(`${url}.map`);
  if (!url.includes('/dist/bin/') || !existsSync(map)) return [url];
  return (JSON.parse(readFileSync(map, 'utf8')) as { sources: string[] }).sources;
}

function packagesOf(urls: readonly string[]): string[] {
  const names = urls
    .flatMap(sourcesOf)
    .flatMap((name) => /.*\/node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(name)?.[1] ?? []);
  return [...new Set(names)].sort();
}

beforeAll(async () => {
  newQuickBench(bench);
  // Without a key there would be something to word.
  await well(['key', 'new'], { cwd: bench, env });
});

/** What a command needs to read documents and write to a register, and nothing that draws, cuts or calls a server. */
const KEEPING = ['better-sqlite3', 'canonicalize', 'commander', 'kysely', 'robust-predicates', 'yaml', 'zod'];
const ISSUE = ['issue', 'nine-lights', '--series', 'main', '--count', '1', '--by', 'A. Moss'];

describe('a command loads no package before it has work for it', () => {
  test.each<[string, string[], string[]]>([
    ['--version', ['--version'], ['commander']],
    ['--help', ['--help'], ['commander']],
    ['register', ['register', 'nine-lights', '--workshop', bench], KEEPING],
  ])('%s', (_, words, packages) => {
    expect(packagesOf(filesOf(...words))).toEqual(packages);
  });

  test('issue; and it is read from few files', () => {
    const files = filesOf(...ISSUE, '--workshop', bench);
    // The font of the number is read: what it cannot cut is not issued.
    expect(packagesOf(files)).toEqual([...KEEPING, 'saxes', 'xmlchars'].sort());
    expect(files.length).toBeLessThan(60);
  });

  test('one that draws is found', () => {
    expect(packagesOf(filesOf('fit', 'nine-lights', '--workshop', bench))).toEqual(
      expect.arrayContaining(['clipper2-ts', 'saxes']),
    );
  });
});
