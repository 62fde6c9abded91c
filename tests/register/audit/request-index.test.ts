import { expect, test } from 'vitest';
import { RequestIndex } from '../../../src/register/audit/request-index.js';

test('keys are known again, and no other is taken for them', () => {
  const index = new RequestIndex();
  const keys = Array.from({ length: 200_000 }, (_, i) => `${i % 3 ? 'A.P. ' : ''}${i}/${i % 7}`);
  keys.push('', 'a', 'aa', 'b', '\u0000', '\u0000\u0000');
  expect(keys.filter((key, i) => index.enter(key, i) !== undefined)).toEqual([]);
  expect(keys.filter((key, i) => index.enter(key, 7) !== i)).toEqual([]);
});
