import { describe, expect, test } from 'vitest';
import { type Problem, Refusal } from '../../src/problem.js';
import { programMaker } from '../../src/station/program-maker.js';
import { proveText } from '../../src/station/prove.js';
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

// A helix of more than two turns to either side of its middle, and a mark at the index line after it.
test('blocks many turns apart are proved alone, and as a program', () => {
  const spread = [-1250, -900, -400, 400, 900, 1250, 0].map((turn) =>
    blockOf(figure, { key: `at ${turn}`, turn, name: `at ${turn}` }),
  );
  const text = encodeChunks(programMaker(run, head)('12/90', spread).text)
    .map((chunk) => Buffer.from(chunk).toString())
    .join('');
  expect(proveText(run, text, spread)).toMatchObject({ ok: true, problems: [] });
  // A turn that they do not ask for is found all the same.
  const lost = text.replace(/\nM5|\nM2/, '\nG0 A9999.0000$&');
  expect(proveText(run, lost, spread)).toMatchObject({
    ok: false,
    problems: [{ code: 'station.readback-turns-for-nothing' }],
  });
});
