import { existsSync, rmSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { type Broken, brokenDocuments } from '../documents/broken.js';
import { copyOfGood, listing } from '../documents/workshop-copy.js';
import { burin, linesOf } from './burin.js';
import { cleanAfterAll } from './folders.js';

cleanAfterAll();

const isRoot = process.getuid?.() === 0;

/** Each kind that has to be answered at the door too; the whole table is held in tests/documents. */
const KINDS =
  /empty file|Latin-1|NUL|carriage|second doc|reference|nested|50 MB|NaN|of two lines|unknown key|no workshop|folder where|device|link to itself|pipe|font outside|WOFF2/i;

const picked = brokenDocuments.filter((b) => KINDS.test(b.name) && !(b.unlessRoot && isRoot));

/** Spoils a copy of the good workshop, asks, and holds that nothing was written. */
async function refused(one: Broken, words: readonly string[]): Promise<void> {
  const dir = copyOfGood();
  try {
    one.spoil(dir);
    const before = listing(dir);
    const said = await burin([...words, '--workshop', dir]);
    const told = linesOf(said.stderr);
    expect(listing(dir), one.name).toEqual(before);
    expect(existsSync(path.join(dir, 'register.db'))).toBe(false);
    expect({ name: one.name, code: said.code, stdout: said.stdout }).toEqual({
      name: one.name,
      code: 2,
      stdout: '',
    });
    expect(told.length, `${one.name}\n${said.stderr}`).toBe(one.lines ?? 1);
    expect(told.filter((l) => l.startsWith(one.line)).length, `${one.name}\n${said.stderr}`).toBeGreaterThan(
      0,
    );
    for (const line of told) {
      expect(line).not.toMatch(/[\p{Cc}\u2028\u2029]/u);
      expect(line.length).toBeLessThan(640);
      expect(line).not.toContain(dir);
      expect(line).not.toMatch(/\n\s+at |node_modules|Error:/);
    }
  } finally {
    rmSync(dir, { recursive: true, force: true });
  }
}

test('a broken document is answered at the door: exit 2, a line for each problem, nothing written', async () => {
  expect(picked.length).toBeGreaterThanOrEqual(18);
  for (const one of picked) await refused(one, ['check']);
});

const WORDS: readonly (readonly string[])[] = [
  ['fit', 'tides'],
  ['issue', 'tides', '--series', 'main', '--count', '1', '--by', 'O. Vale'],
  ['cut', 'tides', '--series', 'main', '--numbers', '1', '--station', 'level'],
];

test.each(WORDS)(
  '%s is refused as well, and makes neither a register nor an output folder',
  async (...words) => {
    const few = brokenDocuments.filter((b) => ['NaN', 'unknown key', 'reference bomb'].includes(b.name));
    expect(few).toHaveLength(3);
    for (const one of few) await refused(one, words);
  },
);
