import { rmSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { loadWorkshop } from '../../src/documents/load.js';
import { describeProblem, lineOf } from '../words-of.js';
import { brokenDocuments } from './broken.js';
import { builtInFonts, copyOfGood, listing } from './workshop-copy.js';

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
      const loaded = await loadWorkshop(dir, { builtInFonts });
      if (loaded.ok) throw new Error('the broken workshop loaded');
      const reported = loaded.problems.map(lineOf);
      expect(reported.filter((l) => l.startsWith(line)).length, reported.join('\n')).toBeGreaterThan(0);
      expect(reported.length, reported.join('\n')).toBe(lines);
      for (const { where, message, hint } of loaded.problems.map(describeProblem)) {
        for (const text of [where, message, hint]) {
          expect(text).not.toMatch(/[\p{Cc}\u2028\u2029]/u);
          expect(text.length).toBeLessThan(320);
          expect(text.trim()).not.toBe('');
        }
        expect(`${message} ${hint}`).not.toContain(dir);
      }
      expect(listing(dir)).toEqual(before);
    } finally {
      rmSync(dir, { recursive: true, force: true });
    }
  });
});
