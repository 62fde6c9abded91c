import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect } from 'vitest';
import { burin, linesOf, started, UNSIGNED, well } from './burin.js';
import { edit, newQuickBench } from './folders.js';

/**
 * Bench hands at once, each a process a call, take every number of a series from a register none of them made: no label
 * twice, no gap, and then there is nothing left.
 */
export async function issueAtOnce(hands: readonly string[], counts: readonly number[]): Promise<void> {
  const all = hands.length * counts.reduce((sum, count) => sum + count, 0);
  const bench = newQuickBench();
  edit(bench, 'editions/nine-lights.yaml', '    to: 90\n    pad: 2\n', `    to: ${all}\n    pad: 4\n`);
  const issue = (count: number, by: string) => [
    ...['issue', 'nine-lights', '--series', 'main', '--count', String(count), '--by', by],
  ];
  const hand = async (by: string): Promise<string[]> => {
    const labels: string[] = [];
    for (const count of counts) {
      const said = await started(issue(count, by), { cwd: bench });
      expect({ code: said.code, stderr: said.stderr }).toEqual({ code: 0, stderr: UNSIGNED });
      const given = linesOf(said.stdout);
      expect(given).toHaveLength(count);
      labels.push(...given);
    }
    return labels;
  };
  const given = (await Promise.all(hands.map(hand))).flat();
  const planned = Array.from({ length: all }, (_, i) => `${String(i + 1).padStart(4, '0')}/${all}`);
  expect(given.sort()).toEqual(planned);

  const listed = linesOf(await well(['register', 'nine-lights', '--csv'], { cwd: bench }));
  expect(listed.filter((l) => /^main,\d+,\d{4}\/\d+,issued(,|$)/.test(l))).toHaveLength(all);
  expect(readFileSync(path.join(bench, 'register.db')).subarray(0, 15).toString()).toBe('SQLite format 3');

  const more = await burin(issue(1, 'E. Marrow'), { cwd: bench });
  expect(more.code).toBe(3);
  expect(more.stdout).toBe('');
  expect(linesOf(more.stderr)).toHaveLength(1);
  expect(more.stderr).toMatch(/none is free/);
}
