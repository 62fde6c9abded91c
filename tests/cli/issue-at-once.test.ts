import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { burin, linesOf, UNSIGNED, well } from './burin.js';
import { cleanAfterAll, edit, newBench } from './folders.js';

cleanAfterAll();

/** What one bench hand asks for, call after call: 500 in all. */
const ASKED = [1, 1, 3, 45, 150, 300];

test('four hands at once, 500 numbers each, from a register none of them made: 2,000 labels, none twice, no gap', async () => {
  const bench = newBench();
  edit(bench, 'editions/nine-lights.yaml', '    to: 90\n    pad: 2\n', '    to: 2000\n    pad: 4\n');
  const hand = async (by: string): Promise<string[]> => {
    const labels: string[] = [];
    for (const count of ASKED) {
      const said = await burin(
        ['issue', 'nine-lights', '--series', 'main', '--count', String(count), '--by', by],
        { cwd: bench },
      );
      expect({ code: said.code, stderr: said.stderr }).toEqual({ code: 0, stderr: UNSIGNED });
      const given = linesOf(said.stdout);
      expect(given).toHaveLength(count);
      labels.push(...given);
    }
    return labels;
  };
  const all = (await Promise.all(['E. Marrow', 'O. Vale', 'T. Finch', 'S. Quill'].map(hand))).flat();
  const planned = Array.from({ length: 2000 }, (_, i) => `${String(i + 1).padStart(4, '0')}/2000`);
  expect([...all].sort()).toEqual(planned);

  const listed = linesOf(await well(['register', 'nine-lights', '--csv'], { cwd: bench }));
  expect(listed.filter((l) => /^main,\d+,\d{4}\/2000,issued(,|$)/.test(l))).toHaveLength(2000);
  expect(readFileSync(path.join(bench, 'register.db')).subarray(0, 15).toString()).toBe('SQLite format 3');

  const more = await burin(
    ['issue', 'nine-lights', '--series', 'main', '--count', '1', '--by', 'E. Marrow'],
    { cwd: bench },
  );
  expect(more.code).toBe(3);
  expect(more.stdout).toBe('');
  expect(linesOf(more.stderr)).toHaveLength(1);
  expect(more.stderr).toMatch(/0 left|none .*left/);
});

test('asking again with the same key gives the same labels and takes no more', async () => {
  const bench = newBench();
  const ask = [
    'issue',
    'nine-lights',
    '--series',
    'proofs',
    '--count',
    '2',
    '--by',
    'E. Marrow',
    '--key',
    'order 7',
    '--workshop',
    bench,
  ];
  const [first, again] = [await well(ask), await well(ask)];
  expect(linesOf(first)).toEqual(['A.P. I/IX', 'A.P. II/IX']);
  expect(again).toBe(first);
});
