import { describe, expect, test } from 'vitest';
import type { CutBlock } from '../../src/cutting/cuts.js';
import { cutter } from '../../src/documents/schema/cutter.js';
import type { Problem } from '../../src/problem.js';
import { prepareBlock } from '../../src/station/block.js';
import { type MachineSetup, setupFor } from '../../src/station/machine-setup.js';
import { table } from '../../src/station/messages.js';
import { surfaceBetween } from '../../src/surface/part-surfaces.js';
import {
  barrel,
  blockOf,
  cap,
  figure,
  lineOf,
  prepared,
  runOn,
  type StationWish,
  stationOf,
  tube,
} from './lantern-coast.js';
import { place } from './plain-frame.js';
import { plainly } from './plain-parser.js';

/** The problems of a block that must be refused; there is no text with them. */
function refused(run: MachineSetup, block: CutBlock): Problem[] {
  const made = prepareBlock(run, block);
  if (!Array.isArray(made)) throw new Error('it was written');
  expect(made.length).toBeGreaterThan(0);
  for (const p of made) expect(p.where && p.code in table).toBeTruthy();
  return made as Problem[];
}
const on = (wish: StationWish, rates: Partial<MachineSetup> = {}) => runOn(cap, stationOf(wish), rates);

describe('travel', () => {
  // On the cap z runs from about 24.99 to 33.98 over the figure.
  test('X past its max, by how much', () => {
    const [p] = refused(on({ x: { max: 33 } }), blockOf(figure));
    expect(p!.where).toBe('mark number, 1');
    expect(p).toMatchObject({
      code: 'station.travel-past-limit',
      values: { axis: 'X', bound: 'max', limit: '33' },
    });
    expect(p!.values.to).toMatch(/^33\.\d+$/);
    expect(p!.values.over).toMatch(/^0\.9\d+$/);
  });
  test('X past its min', () => {
    expect(refused(on({ x: { min: 26 } }), blockOf(figure))[0]!.values).toMatchObject({
      axis: 'X',
      bound: 'min',
      limit: '26',
    });
  });
  test('Z too deep', () => {
    expect(refused(on({ z: { min: -0.5 } }), blockOf(figure))[0]!.values).toMatchObject({
      axis: 'Z',
      bound: 'min',
      limit: '-0.5',
    });
  });
  test('Z safe height past its max', () => {
    expect(refused(on({ z: { max: 4.5 } }), blockOf(figure))[0]).toMatchObject({
      code: 'station.safe-height-past-max',
      values: { safe: '5', over: '0.5', limit: '4.5' },
    });
  });
  test('A that no whole turn brings inside', () => {
    const [p] = refused(on({ a: { min: 0, max: 350 } }), blockOf(figure, { turn: 0 }));
    expect(p).toMatchObject({
      code: 'station.travel-past-limit',
      values: { axis: 'A', unit: 'degrees', bound: 'min', limit: '0' },
    });
  });
  test('A at the whole turn that fits', () => {
    for (const [min, max, sign] of [
      [0, 400, 1],
      [-1100, -650, 1],
      [0, 400, -1],
      [700, 1100, -1],
    ] as const) {
      const run = on({ aSign: sign, a: { min, max } });
      const { extent, text } = prepared(run, blockOf(figure, { turn: 350 }));
      expect(extent.a[0]).toBeGreaterThanOrEqual(min);
      expect(extent.a[1]).toBeLessThanOrEqual(max);
      for (const m of plainly(text).moves.filter((one) => !one.rapid)) {
        const turned = place(cap, run.station, m.x, m.a).angle - 350;
        expect(Math.abs(turned - 360 * Math.round(turned / 360))).toBeLessThan(40);
      }
    }
  });
  test('a block over the edge of the surface', () => {
    const over = lineOf([
      [0, 45],
      [0, 51],
    ]);
    const [p] = refused(on({}), blockOf([over]));
    expect(p!.code).toBe('station.past-edge');
    expect(p!.values.over).toMatch(/^0\.97\d\d$/);
  });
});

describe('speed', () => {
  test.each([
    ['X', { x: { speed: 90 } }, cap],
    ['A', { a: { speed: 700 } }, cap],
    ['Z', { z: { speed: 50 } }, { z0: 10, z1: 60, r0: 40, r1: 5.5 }],
  ] as const)(
    '%s too slow for the feed: the largest feed it names does, a little more does not',
    (axis, wish, cone) => {
      const run = (feed: number) => runOn(cone, stationOf(wish), { feed, plunge: 5 });
      const [p] = refused(run(120), blockOf(figure));
      expect(p).toMatchObject({ code: 'station.axis-too-slow', values: { axis } });
      const feed = Number(p!.values.largest);
      expect(prepareBlock(run(feed), blockOf(figure))).not.toBeInstanceOf(Array);
      expect(prepareBlock(run(feed * 1.02), blockOf(figure))).toBeInstanceOf(Array);
    },
  );
  test('a plunge faster than Z', () => {
    expect(refused(on({ z: { speed: 200 } }, { plunge: 201 }), blockOf(figure))[0]).toMatchObject({
      code: 'station.plunge-too-fast',
      values: { plunge: '201' },
    });
  });
});

describe('what cannot be', () => {
  test.each([
    ['no depth', { depth: 0, passes: [0] }],
    ['a negative depth', { depth: -0.1, passes: [-0.1] }],
    ['a depth that is no number', { depth: Number.NaN, passes: [Number.NaN] }],
    ['passes that stop short', { depth: 0.06, passes: [0.03] }],
    ['passes out of order', { depth: 0.06, passes: [0.04, 0.03, 0.06] }],
    ['no passes', { passes: [] }],
    ['no lines', { lines: [] }],
    ['a line of one point', { lines: [lineOf([[0, 20]])] }],
    [
      'a point nowhere',
      {
        lines: [
          lineOf([
            [0, 20],
            [Number.NaN, 21],
          ]),
        ],
      },
    ],
    ['a turn without end', { turn: Number.POSITIVE_INFINITY }],
  ] as [string, Partial<CutBlock>][])('%s', (_, wish) => {
    refused(on({}), blockOf(figure, wish));
  });
  test('tilted from the axis', () => {
    const [p] = refused(on({ setup: 'tilted', zero: 'axis' }), blockOf(figure));
    expect(p!.code).toBe('station.tilted-from-axis');
  });
  test('approach above safe', () => {
    expect(refused(on({ safe: 1, approach: 2 }), blockOf(figure))[0]!.code).toBe(
      'station.approach-above-safe',
    );
  });
  test('figures too few for the size', () => {
    const big = { z0: 0, z1: 40, r0: 140, r1: 140 };
    expect(refused(runOn(big, stationOf({ decimals: 3 })), blockOf(figure))[0]!.code).toBe(
      'station.decimals-too-few',
    );
  });
  test('a station line that cannot be proved', () => {
    expect(refused(on({ before: ['G64'] }), blockOf(figure))[0]).toMatchObject({
      code: 'station.word-not-provable',
      values: { word: 'G64' },
    });
    expect(refused(on({ before: ['G28'] }), blockOf(figure))[0]!.where).toBe(
      'station bench rotary: before[0]',
    );
    expect(refused(on({ after: ['M2'] }), blockOf(figure))[0]!.where).toBe('station bench rotary: after[0]');
  });
  test('more moves than the budget, passes counted', () => {
    const block = blockOf(figure);
    const moves = (prepared(on({}), block).text.match(/^G1 [XA]/gm) ?? []).length;
    expect(Array.isArray(prepareBlock(on({}), block, moves + block.passes.length * 10))).toBe(false);
    const found = prepareBlock(on({}), block, 8) as Problem[];
    expect(found).toMatchObject([{ code: 'station.too-many-moves', values: { most: 8 } }]);
  });
  test('a line of a million points is refused before it is laid', () => {
    const points = Float64Array.from({ length: 2_000_002 }, (_, i) => (i % 2 ? 20 : i * 1e-7));
    const found = refused(on({}), blockOf([{ points, closed: false }]));
    expect(found[0]!.code).toBe('station.too-many-moves');
  });
  test('feeds that are no feeds', () => {
    for (const feed of [0, -1, Number.NaN, Number.POSITIVE_INFINITY])
      refused(on({}, { feed }), blockOf(figure));
  });
});

describe('the run of a cutter', () => {
  const surface = surfaceBetween('field', tube.z0, tube.z1, tube.r0, tube.r1);
  const base = { kind: 'cutter', version: 1, name: 'point', feed: 200, plunge: 60, depth: 0.2 };
  test('takes the lesser feed, and the speed where it turns', () => {
    const cone = cutter.parse({ ...base, shape: 'cone', speed: 18_000, tip: 0.1, angle: 60 });
    expect(setupFor(stationOf(), surface, cone, { feed: 150 })).toMatchObject({
      feed: 150,
      plunge: 60,
      speed: 18_000,
    });
    const drag = cutter.parse({ ...base, shape: 'drag', width: 0.1 });
    expect(setupFor(stationOf(), surface, drag, { feed: 900 })).toMatchObject({ feed: 200 });
    expect(setupFor(stationOf(), surface, drag, { feed: 900 })).not.toHaveProperty('speed');
  });
  test('a cutter that is dragged, in a spindle that the station leaves turning, with the line that starts it', () => {
    const drag = cutter.parse({ ...base, shape: 'drag', width: 0.1 });
    const cone = cutter.parse({ ...base, shape: 'cone', speed: 18_000, tip: 0.1, angle: 60 });
    const station = (...before: string[]) => stationOf({ before });
    expect(setupFor(station('M8', 'M3 S100', 'G4 P5'), surface, drag, { feed: 900 })).toMatchObject([
      {
        code: 'station.still-cutter-turned',
        where: 'station bench rotary: before[1]',
        values: { line: 'M3 S100' },
      },
    ]);
    expect(setupFor(station('M3 S100', 'M5'), surface, drag, { feed: 900 })).toMatchObject({ feed: 200 });
    expect(setupFor(station('M3 S100'), surface, cone, { feed: 900 })).toHaveProperty('speed');
  });
  test('refuses a beam', () => {
    const beam = cutter.parse({ ...base, shape: 'beam', width: 0.1 });
    const [p] = setupFor(stationOf(), surface, beam, { feed: 900 }) as Problem[];
    expect(p!.code).toBe('station.beam-not-supported');
  });
  test('a block that only just fits both ways is written', () => {
    const { extent } = prepared(runOn(barrel, stationOf()), blockOf(figure));
    const tight = stationOf({
      x: { min: extent.x[0], max: extent.x[1] },
      a: { min: extent.a[0], max: extent.a[1] },
      z: { min: extent.z[0], max: extent.z[1] },
    });
    expect(prepared(runOn(barrel, tight), blockOf(figure)).extent).toEqual(extent);
  });
});
