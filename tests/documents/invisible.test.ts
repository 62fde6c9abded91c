import { expect, test } from 'vitest';
import { invisibleIn, showInvisible, showSteering, withoutInvisible } from '../../src/documents/invisible.js';

test('invisible characters are written out, named or taken away', () => {
  const text = 'a\u202eb\u200bc\u200b';
  expect(showInvisible(text)).toBe('a<U+202E>b<U+200B>c<U+200B>');
  expect(invisibleIn(text)).toEqual(['U+202E', 'U+200B']);
  expect(withoutInvisible(text)).toBe('abc');
  expect([showInvisible('É. Marröw'), invisibleIn('plain')]).toEqual(['É. Marröw', []]);
});

test('what steers a terminal is written out, and nothing else', () => {
  expect(showSteering('a\u202eb\u200dc\n\u001b[31m\u009b\u2028')).toBe(
    'a<U+202E>b\u200dc<U+000A><U+001B>[31m<U+009B><U+2028>',
  );
  expect(showSteering('É. Marröw')).toBe('É. Marröw');
});
