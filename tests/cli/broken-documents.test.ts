import { existsSync, rmSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { type Broken, brokenDocuments } from '../documents/broken.js';
import { copyOfGood, listing } from '../documents/workshop-copy.js';
import { burin, linesOf, some } from './burin.js';

const isRoot = process.getuid?.() === 0;

/** The time in which a person still takes an answer for immediate. Work is counted, so a busy machine is not blamed. */
const PATIENCE_MS = 2000;
/** Adds what the shell and its children took as two lines: POSIX `times`, user and system. */
const TIMED = '"$@"; code=$?; times >&2; exit $code';

/** The work of a timed run, ms, and what it said besides. */
function timed(stderr: string): { workMs: number; told: string[] } {
  const lines = linesOf(stderr);
  const told = lines.slice(0, -2);
  const seconds = [
    ...lines
      .slice(-2)
      .join(' ')
      .matchAll(/(\d+)m([\d.]+)s/g),
  ].map((m) => Number(m[1]) * 60 + Number(m[2]));
  expect(seconds).toHaveLength(4);
  return { workMs: seconds.reduce((sum, s) => sum + s, 0) * 1000, told };
}

/** Each kind that has to be answered at the door too; the whole table is held in tests/documents. */
const KINDS =
  /empty file|byte order|low byte|Latin-1|NUL|escape char|carriage|tab for|fits nothing|quote not|two keys|duplicate|second doc|reference|anchor|merge|^tag$|1\.1|top level|nested|hundred thousand k|bad escapes|__proto__|50 MB|very long key|word for|decimal comma|NaN|1e308|negative|number for text|of two lines|climbs out|text for a list|unknown key|missing key|no workshop|\.yml|folder where|device|link to itself|pipe|font outside|revers|WOFF2/i;

const picked = brokenDocuments.filter((b) => KINDS.test(b.name) && !(b.unlessRoot && isRoot));

/** Spoils a copy of the good workshop, asks, and holds that nothing was written. */
async function asked(one: Broken, words: readonly string[]): Promise<void> {
  const dir = copyOfGood();
  try {
    one.spoil(dir);
    const before = listing(dir);
    const said = await burin(words, { cwd: dir, sh: TIMED });
    const { workMs, told } = timed(said.stderr);
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
    expect(workMs, one.name).toBeLessThan(PATIENCE_MS);
  } finally {
    rmSync(dir, { recursive: true, force: true });
  }
}

test('a broken document is answered at the door: exit 2, a line for each problem, at once, nothing written', async () => {
  expect(picked.length).toBeGreaterThanOrEqual(60);
  await some(2, picked, (one) => asked(one, ['check']));
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
    await some(2, few, (one) => asked(one, words));
  },
);
