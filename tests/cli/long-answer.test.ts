import fc from 'fast-check';
import { expect, test } from 'vitest';
import { inPieces, jsonWithList } from '../../src/cli/long-answer.js';

const head = { ok: true, edition: 'nine-lights' };
const whole = (items: readonly unknown[]) => `${JSON.stringify({ ...head, numbers: items }, null, 2)}\n`;

test('a list in pieces is the JSON of the whole', () => {
  fc.assert(
    fc.property(fc.array(fc.jsonValue(), { maxLength: 5 }), (items) => {
      expect([...jsonWithList(head, 'numbers', items)].join('')).toBe(whole(items));
    }),
  );
  for (const count of [0, 1, 999, 1000, 1001, 2000, 2500]) {
    const items = Array.from({ length: count }, (_, i) => ({ number: i, parts: i % 3 === 0 ? [] : ['cap'] }));
    const pieces = [...jsonWithList(head, 'numbers', items)];
    expect(pieces.join('')).toBe(whole(items));
    expect(pieces.length).toBe(Math.max(1, Math.ceil(count / 1000)) + 1);
  }
});

test('the pieces of a list hold each item once, and of an empty one there is one', () => {
  for (const count of [0, 1, 1000, 1001]) {
    const items = Array.from({ length: count }, (_, i) => i);
    expect([...inPieces(items, (some) => `${some.join()};`)].join('')).toBe(
      `${items.slice(0, 1000).join()};${count > 1000 ? '1000;' : ''}`,
    );
  }
});
