import { rmSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { loadWorkshop } from '../../src/documents/load.js';
import { problemLine } from '../../src/problem.js';
import { brokenDocuments } from './broken.js';
import { builtInFonts, copyOfGood, listing } from './workshop-copy.js';

/** The time in which a person still takes an answer for immediate. */
const PATIENCE_MS = 2000;

const isRoot = process.getuid?.() === 0;

describe('broken documents', () => {
  test('there are more than sixty, each with a name of its own', () => {
    expect(brokenDocuments.length).toBeGreaterThan(60);
    expect(new Set(brokenDocuments.map((b) => b.name)).size).toBe(brokenDocuments.length);
  });

  test.each(brokenDocuments)('$name', async ({ spoil, line, lines = 1, unlessRoot }) => {
    if (unlessRoot && isRoot) return;
    const dir = copyOfGood();
    try {
      spoil(dir);
      const before = listing(dir);
      const start = performance.now();
      const loaded = await loadWorkshop(dir, { builtInFonts });
      const took = performance.now() - start;
      if (loaded.ok) throw new Error('the broken workshop loaded');
      const told = loaded.problems.map(problemLine);
      expect(told.filter((l) => l.startsWith(line)).length, told.join('\n')).toBeGreaterThan(0);
      expect(told.length, told.join('\n')).toBe(lines);
      for (const { where, what, cure } of loaded.problems) {
        for (const text of [where, what, cure]) {
          expect(text).not.toMatch(/[\p{Cc}\u2028\u2029]/u);
          expect(text.length).toBeLessThan(320);
          expect(text.trim()).not.toBe('');
        }
        expect(`${what} ${cure}`).not.toContain(dir);
      }
      expect(took).toBeLessThan(PATIENCE_MS);
      expect(listing(dir)).toEqual(before);
    } finally {
      rmSync(dir, { recursive: true, force: true });
    }
  });
});
