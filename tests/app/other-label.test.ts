import { expect, test } from 'vitest';
import { labelsByBlocks } from '../../src/app/other-label.js';
import type { Operation } from '../../src/cutting/operation.js';

const operationOf = (kind: string, blocks: Readonly<Record<string, string>> = {}): Operation => {
  const cut = Object.entries(blocks).map(([label, text]) => [
    label,
    [...text].map((name) => ({ mark: 'm', name })),
  ]);
  const mark = {
    fitted: { of: { mark: { kind, id: 'm' } } },
    passes: [],
    minFeatures: [],
    blocks: new Map(cut as never),
  };
  return { part: 'cap', surfaceId: 'body', cutter: 'drag', marks: [mark] } as never;
};
const namesOf = (text: string): string[] => [...text].map((c) => `m ${c}`);

test('numbers are known by their letters, in whatever order they are cut', () => {
  const operation = operationOf('number');
  const others = ['2/90', '12/90', '21/90', '11/90', '1/90'];
  const never = () => {
    throw new Error('No block of a number need be made.');
  };
  expect(labelsByBlocks(operation, never, others, namesOf('09/21'))).toEqual(['12/90', '21/90']);
  expect(labelsByBlocks(operation, never, ['1 / 90'], namesOf('1/90'))).toEqual(['1 / 90']);
  expect(labelsByBlocks(operation, never, others, [...namesOf('1/9'), 'line 0'])).toEqual([]);
});
test('dedications are known by their blocks, and inscriptions alone tell no label from another', () => {
  const cut = operationOf('dedication', { one: 'ebb', two: 'flow' });
  expect(labelsByBlocks(cut, () => [cut], ['one', 'two'], namesOf('bbe'))).toEqual(['one']);
  const words = operationOf('inscription', { one: 'ebb', two: 'ebb' });
  expect(labelsByBlocks(words, () => [words], ['two'], namesOf('ebb'))).toEqual([]);
});
