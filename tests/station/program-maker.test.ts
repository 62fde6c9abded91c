import { describe, expect, test } from 'vitest';
import { type Problem, Refusal } from '../../src/problem.js';
import { programMaker } from '../../src/station/program-maker.js';
import { encodeChunks } from '../../src/text-chunks.js';
import { blockOf, cap, figure, head, runOn, stationOf } from './lantern-coast.js';

const run = runOn(cap, stationOf(), { speed: 9000 });
const blocks = [
  blockOf(figure, { key: 'a' }),
  blockOf(figure, { key: 'b', turn: 90 }),
  blockOf(figure, { key: 'a' }),
];
const bytesOf = (mostBytes?: number): number =>
  encodeChunks(programMaker(run, head, mostBytes)('12/90', blocks).text).reduce(
    (sum, c) => sum + c.length,
    0,
  );
const problemsOf = (action: () => unknown): readonly Problem[] => {
  try {
    action();
  } catch (error) {
    if (error instanceof Refusal) return error.problems;
    throw error;
  }
  return [];
};

describe('the budget of a program, in bytes', () => {
  const bytes = bytesOf();
  test('a program of just so many is made', () => {
    expect(bytesOf(bytes)).toBe(bytes);
  });
  test('one byte more is refused, blocks that are known already counted', () => {
    expect(problemsOf(() => bytesOf(bytes - 1))).toMatchObject([
      { code: 'station.program-too-long', where: '', values: { most: bytes - 1 } },
    ]);
  });
});
