import { expect, test } from 'vitest';
import type { Part } from '../../src/documents/schema/part.js';
import { prepareBlock } from '../../src/station/block.js';
import { type MachineSetup, safeHeight } from '../../src/station/machine-setup.js';
import { writeProgram } from '../../src/station/program.js';
import { readback } from '../../src/station/readback.js';
import { readProgram } from '../../src/station/reader.js';
import { tallestKeepoutMm } from '../../src/surface/keepouts.js';
import { surfaceBetween } from '../../src/surface/part-surfaces.js';

const station = {
  kind: 'station',
  version: 1,
  name: 'bench',
  setup: 'level',
  axes: {
    x: { sign: 1, offset: 0, min: -5, max: 100, speed: 2000 },
    a: { sign: 1, offset: 0, speed: 9000 },
    z: { zero: 'touch', offset: 0, min: -5, max: 30, speed: 900 },
  },
  safe: 2,
  approach: 0.3,
  feed: 'inverse-time',
  decimals: 4,
  before: [],
  after: [],
} as MachineSetup['station'];
const run: MachineSetup = {
  station,
  surface: surfaceBetween('s', 0, 40, 6, 6),
  feed: 200,
  plunge: 60,
  proud: 3.2,
};
const block = {
  key: 'k',
  mark: 'm',
  name: 'l',
  turn: 180,
  depth: 0.1,
  passes: [0.1],
  lines: [{ closed: false, points: Float64Array.of(0, 10, 2, 10) }],
};
const head = { edition: 'e', label: '1', digest: 'd', part: 'p', surface: 's', cutter: 'c', setup: 'level' };

test('rapid moves clear the tallest clip of the part, not the surface alone', () => {
  expect(safeHeight(run)).toBeCloseTo(5.2, 9);
  expect(safeHeight({ ...run, proud: undefined })).toBeCloseTo(2, 9);
  const keepouts = [{ kind: 'clip', height: 3.2 }, { kind: 'band', height: 0.4 }, { kind: 'window' }];
  expect(tallestKeepoutMm({ keepouts } as unknown as Part)).toBe(3.2);
});

test('read-back refuses a program whose rapids would meet the clip', () => {
  const faults = (written: MachineSetup) => {
    const prepared = prepareBlock(written, block);
    if (Array.isArray(prepared)) throw new Error('not prepared');
    const reading = readProgram(writeProgram(written, head, [prepared]).text);
    if (!reading.ok) throw new Error('not read');
    return readback(reading.program, run.surface, station, run.proud).problems;
  };
  expect(faults(run)).toEqual([]);
  expect(faults({ ...run, proud: 0 }).length).toBeGreaterThan(0);
});
