import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { burin } from '../cli/burin.js';
import { cleanAfterAll, newFolder } from '../cli/folders.js';
import { commandsOf, filesOf, isAsShown, linksOf } from './commands.js';

cleanAfterAll();

const root = fileURLToPath(new URL('../..', import.meta.url));
const readme = readFileSync(path.join(root, 'README.md'), 'utf8');
const commands = commandsOf(readme);

describe('the commands of the README', () => {
  it('are the whole job, in the order in which it is done', () => {
    const job = ['new', 'check', 'fit', 'issue', 'cut', 'readback', 'record', 'register', 'audit'];
    const names = commands.map(({ words }) => words[0]!);
    const first = [...new Set(names)].filter((name) => name !== 'key');
    expect(first).toEqual([...job, 'certificate', 'verify']);
  });

  it('run one after another, and print what is shown', async () => {
    const cwd = newFolder();
    const env = { BURIN_KEYS: path.join(cwd, 'keys') };
    for (const { words, shown } of commands) {
      const run = await burin(words, { cwd, env });
      const command = `burin ${words.join(' ')}`;
      expect(run.code, `${command}\n${run.stderr}`).toBe(0);
      const printed = `${run.stderr}${run.stdout}`;
      expect(isAsShown(printed, shown), `${command} printed\n${printed}and not\n${shown.join('\n')}`).toBe(
        true,
      );
    }
    const files = filesOf(commands);
    expect(files.length).toBeGreaterThan(5);
    for (const file of files) {
      const places = [cwd, path.join(cwd, 'certificates')].map((folder) => path.join(folder, file));
      expect(places.some(existsSync), file).toBe(true);
    }
  });
});

describe('the README', () => {
  it('leads to files that exist', () => {
    const links = linksOf(readme);
    expect(links.length).toBeGreaterThan(15);
    for (const link of links) expect(existsSync(path.join(root, link)), link).toBe(true);
  });

  it('names scripts of the package', () => {
    const { scripts } = JSON.parse(readFileSync(path.join(root, 'package.json'), 'utf8'));
    const named = [...readme.matchAll(/npm (?:run )?(demo|test[\w:]*|bench)/g)].map(([, name]) => name!);
    expect(named.length).toBeGreaterThan(1);
    for (const name of named) expect(scripts).toHaveProperty([name]);
  });
});

describe('the comparison with what is shown', () => {
  it('finds every difference but where … stands', () => {
    expect(isAsShown('a\nb\n', ['a', 'b'])).toBe(true);
    expect(isAsShown('a\nb\n', ['a'])).toBe(false);
    expect(isAsShown('a\n', ['a', 'b'])).toBe(false);
    expect(isAsShown('a.c\n', ['a.d'])).toBe(false);
    expect(isAsShown('abc\n', ['a.c'])).toBe(false);
    expect(isAsShown('took 35 minutes.\n', ['took … minutes.'])).toBe(true);
    expect(isAsShown('took  minutes.\n', ['took … minutes.'])).toBe(false);
    expect(isAsShown('a\nx\ny\nb\n', ['a', '…', 'b'])).toBe(true);
    expect(isAsShown('a\nb\n', ['a', '…'])).toBe(true);
    expect(isAsShown('x\nb\n', ['a', '…'])).toBe(false);
  });
});
