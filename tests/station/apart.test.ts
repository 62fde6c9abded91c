import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';

const room = new URL('../../src/station/', import.meta.url);
const second = readdirSync(room).filter((name) => /^(reader|readback)/.test(name));

test('there is a reader and a read-back', () => {
  expect(second).toContain('reader.ts');
  expect(second).toContain('readback.ts');
});

test.each(second)('%s takes nothing from the writer, cutting or layout', (name) => {
  const from = [...readFileSync(new URL(name, room), 'utf8').matchAll(/from '([^']+)'/g)].map(
    (found) => found[1]!,
  );
  for (const path of from) {
    expect(path).toMatch(
      /^(\.\/(reader|readback)[a-z-]*|\.\/messages|\.\.\/(surface\/[a-z]+|documents\/schema\/[a-z]+|units|problem|geometry\/segment))\.js$/,
    );
  }
});
