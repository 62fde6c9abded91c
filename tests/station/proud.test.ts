import { expect, test } from 'vitest';
import { prepareBlock } from '../../src/station/block.js';
import { type MachineSetup, safeHeight } from '../../src/station/machine-setup.js';
import { writeProgram } from '../../src/station/program.js';
import { readback } from '../../src/station/readback.js';
import { readProgram } from '../../src/station/reader.js';
import { highestAbove } from '../../src/surface/part-profile.js';
import type { PartShape } from '../../src/surface/part-shape.js';
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
const names = { edition: 'e', label: '1', digest: 'd', part: 'p', surface: 's', cutter: 'c' };
const head = { ...names, setup: 'level', documents: 'part 0' };

test('rapid moves clear the tallest clip of the part, not the surface alone', () => {
  expect(safeHeight(run)).toBeCloseTo(5.2, 9);
  expect(safeHeight({ ...run, proud: undefined })).toBeCloseTo(2, 9);
});

test('the whole part counts: clips and bands where they stand, and a shoulder beside a neck', () => {
  const keepouts = [
    { kind: 'clip', from: 10, to: 20, height: 3.2 },
    { kind: 'band', from: 2, to: 4, height: 0.4 },
    { kind: 'window' },
  ] as unknown as PartShape['keepouts'];
  const level = (profile: PartShape['profile'], of = run.surface) =>
    highestAbove({ profile, keepouts: [] }, of).level;
  const round = [
    { z: 0, diameter: 12 },
    { z: 40, diameter: 12 },
  ];
  expect(highestAbove({ profile: round, keepouts }, run.surface)).toEqual({ level: 3.2, tilted: 3.2 });
  // A clip on a thinner stretch stands less high over the surface.
  const thin = [
    { z: 0, diameter: 8 },
    { z: 40, diameter: 8 },
    ...round.map(({ z }) => ({ z: z + 41, diameter: 12 })),
  ];
  const neck = surfaceBetween('s', 41, 81, 6, 6);
  expect(highestAbove({ profile: thin, keepouts }, neck).level).toBeCloseTo(1.2, 12);
  // A shoulder of radius 12 beside a neck of radius 6 was crossed at radius 8 by the first rapid move.
  expect(level([...round, { z: 41, diameter: 24 }, { z: 60, diameter: 24 }])).toBe(6);
  // Under a cone whose generator lies level, what continues it does not stand over it; a shoulder does, square to it.
  const cone = surfaceBetween('s', 0, 40, 6, 10);
  const lean = Math.atan2(4, 40);
  const going = [
    { z: 0, diameter: 12 },
    { z: 50, diameter: 22 },
  ];
  expect(highestAbove({ profile: going, keepouts: [] }, cone).tilted).toBeCloseTo(0, 12);
  expect(highestAbove({ profile: going, keepouts: [] }, cone).level).toBeCloseTo(1, 12);
  const raised = [...going, { z: 51, diameter: 30 }];
  expect(highestAbove({ profile: raised, keepouts: [] }, cone).tilted).toBeCloseTo(
    9 * Math.cos(lean) - 51 * Math.sin(lean),
    12,
  );
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
