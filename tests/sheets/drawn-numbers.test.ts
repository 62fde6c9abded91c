import { describe, expect, test } from 'vitest';
import { drawnNumbers } from '../../src/sheets/drawn-numbers.js';

describe('the numbers that a picture shows', () => {
  const upTo = (last: number): number[] => Array.from({ length: last }, (_, i) => i + 1);

  test('are all of them up to five thousand', () => {
    for (const many of [0, 1, 5000]) expect(drawnNumbers(upTo(many))).toEqual(upTo(many));
  });

  test('are of more the first, and the last, which are the widest', () => {
    for (const many of [5001, 100_000]) {
      const drawn = drawnNumbers(upTo(many));
      expect(drawn).toHaveLength(5000);
      expect(drawn.slice(0, 4990)).toEqual(upTo(4990));
      expect(drawn.slice(4990)).toEqual(upTo(many).slice(-10));
    }
  });
});
