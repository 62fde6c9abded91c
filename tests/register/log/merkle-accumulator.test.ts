import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { leafHash } from '../../../src/register/event.js';
import {
  leafHashText,
  MerkleAccumulator,
  rootOf,
  subtreeCount,
} from '../../../src/register/log/merkle-accumulator.js';

const leaf = (n: number): Buffer => createHash('sha256').update(String(n)).digest();

function grown(size: number): MerkleAccumulator {
  const frontier = new MerkleAccumulator();
  for (let i = 0; i < size; i++) frontier.add(leaf(i));
  return frontier;
}

describe('an accumulator', () => {
  test('keeps one root for each complete subtree, largest first', () => {
    expect(grown(0).roots()).toEqual([]);
    expect(grown(8).roots()).toHaveLength(1);
    expect(grown(11).roots()).toEqual([
      rootOf([0, 1, 2, 3, 4, 5, 6, 7].map(leaf)),
      rootOf([8, 9].map(leaf)),
      leaf(10),
    ]);
  });

  test('goes on from kept roots as if it had never stopped', () => {
    const resumed = new MerkleAccumulator(11, grown(11).roots());
    resumed.add(leaf(11));
    expect([resumed.size, resumed.root()]).toEqual([12, grown(12).root()]);
  });

  test('is not changed through what it gave away, nor through what it was given', () => {
    const frontier = grown(5);
    const before = frontier.root().toString('hex');
    for (const root of [...frontier.roots(), frontier.root()]) root.fill(0);
    grown(1).root().fill(0);
    const given = leaf(0);
    const one = new MerkleAccumulator();
    one.add(given);
    one.root().fill(0);
    given.fill(0);
    expect(frontier.root().toString('hex')).toBe(before);
    expect(one.root()).toEqual(leaf(0));
    expect(new MerkleAccumulator().root().toString('hex')).toMatch(/^e3b0c442/);
  });

  test('tells of each complete subtree once, as it closes', () => {
    const told: string[] = [];
    const frontier = new MerkleAccumulator();
    for (let i = 0; i < 6; i++)
      frontier.add(leaf(i), (start, level, root) => {
        told.push(`${start}+${2 ** level}`);
        const under = Array.from({ length: 2 ** level }, (_, k) => leaf(start + k));
        expect(Buffer.from(root, 'latin1')).toEqual(rootOf(under));
      });
    expect(told).toEqual(['0+1', '1+1', '0+2', '2+1', '3+1', '2+2', '0+4', '4+1', '5+1', '4+2']);
  });

  test.each<[string, number, Buffer[]]>([
    ['one root too few', 11, grown(11).roots().slice(1)],
    ['one root too many', 8, grown(11).roots()],
    ['a root cut short', 8, [leaf(0).subarray(1)]],
    ['roots of nothing', 0, [leaf(0)]],
  ])('refuses kept roots that cannot be of its size: %s', (_, size, roots) => {
    expect(() => new MerkleAccumulator(size, roots)).toThrow(
      expect.objectContaining({ problems: [expect.objectContaining({ code: 'log.subtrees-do-not-fit' })] }),
    );
  });

  test('refuses what is no leaf hash, and what is no size', () => {
    expect(() => new MerkleAccumulator().add(Buffer.alloc(31))).toThrow(RangeError);
    for (const size of [-1, 1.5, Number.NaN, 2 ** 53])
      expect(() => new MerkleAccumulator(size)).toThrow(RangeError);
  });
});

test('a tree has as many complete subtrees as its size has ones', () => {
  expect([0, 1, 2, 3, 7, 8, 11, 2 ** 40 + 1].map(subtreeCount)).toEqual([0, 1, 1, 2, 3, 1, 3, 2]);
});

test('a copy grows by itself', () => {
  const tree = grown(5);
  const [copy, root] = [tree.copy(), tree.root()];
  copy.addText(leafHashText('x'));
  expect([tree.root(), copy.size, copy.root().equals(root)]).toEqual([root, 6, false]);
});

test('a leaf as text is the leaf of every other reader', () => {
  for (const body of ['', '{}', 'é🖋', 'x'.repeat(5000)])
    expect(Buffer.from(leafHashText(body), 'latin1')).toEqual(leafHash(body));
});
