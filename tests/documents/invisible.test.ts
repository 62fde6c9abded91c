import { expect, test } from 'vitest';
import { invisibleIn, showInvisible, withoutInvisible } from '../../src/documents/invisible.js';

test('invisible characters are written out, named or taken away', () => {
  const text = 'a\u202eb\u200bc\u200b';
  expect(showInvisible(text)).toBe('a<U+202E>b<U+200B>c<U+200B>');
  expect(invisibleIn(text)).toEqual(['U+202E', 'U+200B']);
  expect(withoutInvisible(text)).toBe('abc');
  expect([showInvisible('É. Marröw'), invisibleIn('plain')]).toEqual(['É. Marröw', []]);
});
