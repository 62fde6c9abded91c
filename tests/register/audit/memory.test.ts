import { randomBytes } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { Seen } from '../../../src/register/audit/fingerprint.js';
import { Growth, leafText } from '../../../src/register/audit/growth.js';
import { leafHash } from '../../../src/register/event.js';
import { Frontier } from '../../../src/register/log/tree.js';

test('the growing log has the roots of the log itself, at every size', () => {
  const [growth, frontier] = [new Growth(), new Frontier()];
  for (let size = 0; size <= 300; size++) {
    expect(growth.root().equals(frontier.root())).toBe(true);
    expect(growth.frontier()).toEqual(frontier.roots());
    const leaf = randomBytes(32);
    growth.add(leaf.toString('latin1'));
    frontier.add(leaf);
  }
  const [copy, root] = [growth.copy(), growth.root()];
  copy.add(leafText('x'));
  expect([growth.root().equals(root), copy.root().equals(root)]).toEqual([true, false]);
});

test('a leaf is the leaf of every other reader', () => {
  for (const body of ['', '{}', 'é🖋', 'x'.repeat(5000)])
    expect(Buffer.from(leafText(body), 'latin1').equals(leafHash(body))).toBe(true);
});

describe('texts seen', () => {
  test('are known again, and no other is taken for them', () => {
    const seen = new Seen();
    const texts = Array.from({ length: 200_000 }, (_, i) => `${i % 3 ? 'A.P. ' : ''}${i}/${i % 7}`);
    texts.push('', 'a', 'aa', 'b', '\u0000', '\u0000\u0000');
    for (const [i, text] of texts.entries()) expect(seen.enter(text, i)).toBeUndefined();
    for (const [i, text] of texts.entries()) expect(seen.enter(text, 7)).toBe(i);
  });
});
