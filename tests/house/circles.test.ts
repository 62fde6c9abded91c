import { expect, test } from 'vitest';
import { circlesIn, importsOf, sourceFiles, targetOf } from './imports.js';

test('no files import one another in a circle', () => {
  const graph = new Map(
    sourceFiles().map((file) => [file, importsOf(file).flatMap((i) => targetOf(file, i) ?? [])]),
  );
  expect(graph.size).toBeGreaterThan(50);
  const known = ['app/certificate.ts'];
  expect(circlesIn(graph).filter((circle) => !known.some((k) => circle.includes(k)))).toEqual([]);
});

test('a circle is found, however long, and a chain is none', () => {
  const graph = new Map([
    ['a', ['b', 'x']],
    ['b', ['c']],
    ['c', ['a', 'd']],
    ['d', ['x']],
    ['x', []],
  ]);
  expect(circlesIn(graph)).toEqual([['a', 'b', 'c']]);
  expect(
    circlesIn(
      new Map([
        ['a', ['b']],
        ['b', []],
      ]),
    ),
  ).toEqual([]);
});
