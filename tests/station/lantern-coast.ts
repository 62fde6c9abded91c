import type { CutBlock, CutLine } from '../../src/cutting/cuts.js';
import { type Station, station } from '../../src/documents/schema/station.js';
import { type PreparedBlock, prepareBlock } from '../../src/station/block.js';
import type { MachineSetup } from '../../src/station/machine-setup.js';
import type { ProgramHead } from '../../src/station/program.js';
import { surfaceBetween } from '../../src/surface/part-surfaces.js';
import type { Cone, Pair } from './plain-frame.js';

/** Invented: a station, surfaces and marks of the bench Lantern Coast, for its edition Nine Lights. */

export const head: ProgramHead = {
  edition: 'Nine Lights',
  label: '12/90',
  digest: '0123456789abcdef',
  part: 'cap',
  surface: 'field',
  cutter: 'point 60',
  setup: 'bench rotary, level',
  documents: 'part 01, station 02',
};

export interface StationWish {
  setup?: Station['setup'];
  feed?: Station['feed'];
  decimals?: number;
  xSign?: 1 | -1;
  aSign?: 1 | -1;
  xOffset?: number;
  aOffset?: number;
  zOffset?: number;
  zero?: 'axis' | 'touch';
  x?: { min?: number; max?: number; speed?: number };
  a?: { min?: number; max?: number; speed?: number };
  z?: { min?: number; max?: number; speed?: number };
  safe?: number;
  approach?: number;
  before?: string[];
  after?: string[];
}

export const stationOf = (wish: StationWish = {}): Station =>
  station.parse({
    kind: 'station',
    version: 1,
    name: 'bench rotary',
    setup: wish.setup ?? 'level',
    axes: {
      x: { sign: wish.xSign ?? 1, offset: wish.xOffset ?? 0, min: -500, max: 500, speed: 5000, ...wish.x },
      a: { sign: wish.aSign ?? 1, offset: wish.aOffset ?? 0, speed: 90_000, ...wish.a },
      z: {
        zero: wish.zero ?? 'touch',
        offset: wish.zOffset ?? 0,
        min: -200,
        max: 300,
        speed: 5000,
        ...wish.z,
      },
    },
    safe: wish.safe ?? 5,
    approach: wish.approach ?? 0.4,
    feed: wish.feed ?? 'inverse-time',
    decimals: wish.decimals ?? 4,
    before: wish.before ?? [],
    after: wish.after ?? [],
  });

/** A cap that narrows upward, a barrel that widens, a plain tube. */
export const cap: Cone = { z0: 10, z1: 60, r0: 7, r1: 5.5 };
export const barrel: Cone = { z0: 5, z1: 70, r0: 4.5, r1: 6.5 };
export const tube: Cone = { z0: 0, z1: 40, r0: 6, r1: 6 };

export const runOn = (c: Cone, s: Station, rates: Partial<MachineSetup> = {}): MachineSetup => ({
  station: s,
  surface: surfaceBetween('field', c.z0, c.z1, c.r0, c.r1),
  feed: 120,
  plunge: 40,
  ...rates,
});

export const lineOf = (points: readonly Pair[], closed = false): CutLine => ({
  points: Float64Array.from(points.flat()),
  closed,
});

export const blockOf = (lines: readonly CutLine[], wish: Partial<CutBlock> = {}): CutBlock => ({
  key: 'k',
  mark: 'number',
  name: '1',
  turn: 0,
  lines,
  depth: 0.06,
  passes: [0.04, 0.06],
  ...wish,
});

/** Two lines that any of the three surfaces can carry: a closed four-sided one and an open bent one. */
export const pairs: readonly (readonly Pair[])[] = [
  [
    [-2, 20],
    [2, 20.5],
    [1.5, 24],
    [-1, 23],
  ],
  [
    [-3, 15],
    [0, 17],
    [3, 16],
  ],
];
export const figure: readonly CutLine[] = [lineOf(pairs[0]!, true), lineOf(pairs[1]!)];

export function prepared(run: MachineSetup, block: CutBlock): PreparedBlock {
  const made = prepareBlock(run, block);
  if (Array.isArray(made)) throw new Error(made.map((p) => `${p.where}: ${p.code}`).join('\n'));
  return made as PreparedBlock;
}
