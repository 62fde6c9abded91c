import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { CutBlock } from '../../src/cutting/cuts.js';
import type { Station } from '../../src/documents/schema/station.js';
import type { MachineSetup } from '../../src/station/machine-setup.js';
import { writeProgram } from '../../src/station/program.js';
import { readback } from '../../src/station/readback.js';
import { compare, type Expected } from '../../src/station/readback-compare.js';
import { readProgram } from '../../src/station/reader.js';
import {
  barrel,
  blockOf,
  cap,
  figure,
  head,
  lineOf,
  pairs,
  prepared,
  runOn,
  stationOf,
  tube,
} from './lantern-coast.js';
import { type Cone, develop, type Pair } from './plain-frame.js';

const expectedOf = (run: MachineSetup, blocks: readonly CutBlock[]): Expected => ({
  lines: blocks.flatMap(({ lines, turn, depth, name }) =>
    lines.map((line) => ({ ...line, turn, depth, name })),
  ),
  feed: run.feed,
  plunge: run.plunge,
  speed: run.speed,
});

const write = (run: MachineSetup, blocks: readonly CutBlock[]): string =>
  writeProgram(
    run,
    head,
    blocks.map((block) => prepared(run, block)),
  ).text;

function proof(
  run: MachineSetup,
  text: string,
  expected: Expected,
  station: Station = run.station,
  tolerance?: number,
) {
  const read = readProgram(text);
  if (!read.ok) throw new Error(read.problems.map((p) => `${p.where}: ${p.code}`).join('\n'));
  return compare(run.surface, readback(read.program, run.surface, station), expected, tolerance);
}

const second: CutBlock = blockOf(
  [
    figure[1]!,
    lineOf([
      [-1, 30],
      [1, 30],
    ]),
  ],
  { turn: 120, key: 'k2', name: '2' },
);
const blocks = [blockOf(figure, { turn: 359 }), second];

describe('a true program is proved', () => {
  for (const [name, cone] of [
    ['cap', cap],
    ['barrel', barrel],
    ['tube', tube],
  ] as const) {
    for (const setup of ['level', 'tilted'] as const) {
      for (const feed of ['inverse-time', 'per-minute'] as const) {
        test(`${name}, ${setup}, ${feed}`, () => {
          const s = stationOf({ setup, feed, xSign: -1, aSign: -1, xOffset: 55, aOffset: 13, zOffset: -2 });
          const run = runOn(cone, s, { speed: 12_000 });
          const found = proof(run, write(run, blocks), expectedOf(run, blocks));
          expect(found.problems).toEqual([]);
          expect(found).toMatchObject({ ok: true, missing: 0, shallow: 0, extra: 0, deep: 0 });
          expect(found.worstMm).toBeLessThan(0.002);
          expect(found.worstMm).toBeGreaterThan(0);
          expect(found.depthError).toBeLessThan(0.0003);
        });
      }
    }
  }

  test('any polyline on any cone', () => {
    const point = fc.tuple(
      fc.double({ min: -150, max: 150, noNaN: true }),
      fc.double({ min: 0.1, max: 0.9, noNaN: true }),
    );
    fc.assert(
      fc.property(
        fc.double({ min: 3, max: 12, noNaN: true }),
        fc.double({ min: 3, max: 12, noNaN: true }),
        fc.array(point, { minLength: 2, maxLength: 6 }),
        fc.boolean(),
        fc.constantFrom('level' as const, 'tilted' as const),
        fc.double({ min: 0, max: 359.9, noNaN: true }),
        (r0, r1, places, closed, setup, turn) => {
          fc.pre(Math.abs(r0 - r1) > 0.05);
          const cone: Cone = { z0: 0, z1: 50, r0, r1 };
          // A chord far round a cone leaves the surface: keep each line inside a quarter of it.
          const points = places.map(([u, v]): Pair => develop(cone, 15 + v * 20, u / 4));
          const run = runOn(cone, stationOf({ setup, a: { speed: 1e6 } }));
          const block = blockOf([lineOf(points, closed)], { turn });
          const found = proof(run, write(run, [block]), expectedOf(run, [block]));
          expect(found.problems).toEqual([]);
          expect(found.worstMm).toBeLessThanOrEqual(0.002);
        },
      ),
      { numRuns: 150, seed: 99 },
    );
  });

  test('rings all the way round, from either seam', () => {
    const round = (from: number, n: number) =>
      lineOf(Array.from({ length: n + 1 }, (_, k): Pair => develop(tube, 20, from + (360 * k) / n)));
    for (const from of [-180, 0, -360]) {
      const run = runOn(tube, stationOf());
      const block = blockOf([round(from, 48)], { turn: 200 });
      expect(proof(run, write(run, [block]), expectedOf(run, [block])).problems).toEqual([]);
    }
  });

  test('a whole turn away where A is limited', () => {
    const run = runOn(cap, stationOf({ a: { min: 700, max: 1300 } }));
    expect(proof(run, write(run, blocks), expectedOf(run, blocks)).problems).toEqual([]);
  });

  test('a dot', () => {
    const run = runOn(cap, stationOf());
    const dot = blockOf([
      lineOf([
        [0, 20],
        [0.000_01, 20],
      ]),
    ]);
    expect(proof(run, write(run, [dot]), expectedOf(run, [dot])).problems).toEqual([]);
  });
});

describe('each planted fault is found', () => {
  const run = runOn(cap, stationOf(), { speed: 12_000 });
  const text = write(run, blocks);
  const expected = expectedOf(run, blocks);
  const lines = text.split('\n');
  const cuts = lines.flatMap((line, k) => (/^G1 X/.test(line) ? [k] : []));
  const withLine = (k: number, make: (line: string) => string) =>
    lines.map((line, n) => (n === k ? make(line) : line)).join('\n');
  const shift = (line: string, letter: string, by: number) =>
    line.replace(new RegExp(`${letter}(-?[\\d.]+)`), (_, n) => `${letter}${(Number(n) + by).toFixed(4)}`);

  test('none planted, none found', () => {
    expect(proof(run, text, expected).ok).toBe(true);
  });
  test('any one point shifted off its line', () => {
    // 0.02 mm along or 0.3 degrees (0.03 mm) round about: a shift along the line itself is no fault of place.
    for (const k of cuts) {
      const along = proof(
        run,
        withLine(k, (line) => shift(line, 'X', 0.02)),
        expected,
      );
      const about = proof(
        run,
        withLine(k, (line) => shift(line, 'A', 0.3)),
        expected,
      );
      expect(along.ok || about.ok).toBe(false);
      expect(along.extra + about.extra).toBeGreaterThan(0);
    }
  });
  test('a point shifted by 0.01 mm round about', () => {
    // 0.1 degrees at radius 6.5 is 0.011 mm.
    const found = proof(
      run,
      withLine(cuts[1]!, (line) => shift(line, 'A', 0.1)),
      expected,
    );
    expect(found.ok).toBe(false);
  });
  test('a missing line', () => {
    const from = lines.lastIndexOf(lines.filter((line) => /^G0 X/.test(line)).at(-1)!);
    const to = lines.indexOf('M5');
    const found = proof(run, [...lines.slice(0, from), ...lines.slice(to)].join('\n'), expected);
    expect(found).toMatchObject({ ok: false, missing: 1, extra: 0, deep: 0 });
    expect(found.problems[0]!.where).toBe('2');
  });
  test('the last move of a line missing, at every pass', () => {
    const one = [blockOf([lineOf(pairs[1]!)], { passes: [0.06] })];
    const all = write(run, one).split('\n');
    const last = all.findLastIndex((line) => line.startsWith('G1'));
    const found = proof(run, all.filter((_, k) => k !== last).join('\n'), expectedOf(run, one));
    expect(found).toMatchObject({ ok: false, missing: 1 });
  });
  test('an extra line', () => {
    const more = [
      ...blocks,
      blockOf(
        [
          lineOf([
            [0, 35],
            [1, 35],
          ]),
        ],
        { name: '3', turn: 200 },
      ),
    ];
    const found = proof(run, write(run, more), expected);
    expect(found).toMatchObject({ ok: false, missing: 0, deep: 0 });
    expect(found.extra).toBeGreaterThan(0);
    expect(found.problems[0]!.where).toMatch(/^line \d+, number 3$/);
  });
  test('too deep by 0.005 mm', () => {
    const deeper = blocks.map((block) => ({ ...block, depth: 0.065, passes: [0.04, 0.065] }));
    const found = proof(run, write(run, deeper), expected);
    expect(found).toMatchObject({ ok: false, missing: 0, extra: 0 });
    expect(found.deep).toBeGreaterThan(0);
    expect(found.depthError).toBeCloseTo(0.005, 3);
  });
  test('one point too deep', () => {
    const k = lines.findIndex((line) => /^G1 X\S+ A\S+ Z/.test(line));
    const found = proof(
      run,
      withLine(k, (line) => shift(line, 'Z', -0.1)),
      expected,
    );
    expect(found.ok).toBe(false);
    expect(found.deep).toBeGreaterThan(0);
  });
  test('too shallow: the last pass left out', () => {
    const shallow = blocks.map((block) => ({ ...block, depth: 0.04, passes: [0.04] }));
    const found = proof(run, write(run, shallow), expected);
    expect(found).toMatchObject({ ok: false, missing: 0, extra: 0, deep: 0, shallow: 4 });
    expect(found.depthError).toBeCloseTo(0.02, 3);
  });
  test('radial plunge without its 1/cos(taper)', () => {
    const steep: Cone = { z0: 0, z1: 40, r0: 20, r1: 6 };
    const tilt = runOn(steep, stationOf());
    const block = [
      blockOf(
        [
          lineOf([
            [0, 15],
            [1, 18],
          ]),
        ],
        { depth: 0.3, passes: [0.3] },
      ),
    ];
    const slack = Math.cos(Math.atan(14 / 40));
    const less = [{ ...block[0]!, depth: 0.3 * slack, passes: [0.3 * slack] }];
    expect(proof(tilt, write(tilt, block), expectedOf(tilt, block)).ok).toBe(true);
    expect(proof(tilt, write(tilt, less), expectedOf(tilt, block)).shallow).toBe(1);
  });
  test('the wrong sign of A', () => {
    const found = proof(run, text, expected, stationOf({ aSign: -1 }));
    expect(found.ok).toBe(false);
    expect(found.missing).toBe(4);
    expect(found.extra).toBeGreaterThan(0);
  });
  test('the wrong sign of X, or an offset forgotten', () => {
    expect(proof(run, text, expected, stationOf({ xSign: -1, xOffset: 60 })).ok).toBe(false);
    expect(proof(run, text, expected, stationOf({ aOffset: 0.1 })).ok).toBe(false);
    expect(proof(run, text, expected, stationOf({ zOffset: 0.01 })).ok).toBe(false);
  });
  test('level read as tilted', () => {
    expect(proof(run, text, expected, stationOf({ setup: 'tilted' })).ok).toBe(false);
  });
  test('a rapid through the work', () => {
    const up = lines.findIndex(
      (line, k) => line === 'G0 Z5.0000' && /^G0 X/.test(lines[k + 1]!) && /^G1/.test(lines[k - 1]!),
    );
    const found = proof(run, lines.filter((_, k) => k !== up).join('\n'), expected);
    expect(found.problems[0]!.code).toBe('station.readback-rapid-along');
    expect(found.problems[0]!.where).toBe(`line ${up + 1}`);
  });
  test('a rapid down into the work', () => {
    const down = lines.findIndex((line, k) => /^G0 Z/.test(line) && /^G0 X/.test(lines[k - 1]!));
    const found = proof(
      run,
      withLine(down, () => 'G0 Z-0.5000'),
      expected,
    );
    expect(found.problems[0]!.code).toBe('station.readback-rapid-down');
  });
  test('a cut begun on the way along', () => {
    const plunge = lines.findIndex((line) => /^G1 Z/.test(line));
    const found = proof(run, lines.filter((_, k) => k !== plunge).join('\n'), expected);
    expect(found.ok).toBe(false);
    expect(found.problems.map((p) => p.code)).toContain('station.readback-feed-in-or-out');
  });
  test('an end in the work', () => {
    const last = lines.lastIndexOf('G0 Z5.0000');
    const found = proof(run, lines.filter((_, k) => k !== last).join('\n'), expected);
    expect(found.problems[0]!.code).toBe('station.readback-ends-low');
  });
  test('a feed doubled', () => {
    const found = proof(
      run,
      withLine(cuts[3]!, (line) => shift(line, 'F', Number(/F([\d.]+)/.exec(line)![1]))),
      expected,
    );
    expect(found.problems[0]).toMatchObject({
      code: 'station.compare-feed',
      values: { feed: '240.00', most: '120' },
    });
  });
  test('a spindle that stands', () => {
    const found = proof(run, lines.filter((line) => !line.startsWith('M3')).join('\n'), expected);
    expect(found.problems[0]).toMatchObject({
      code: 'station.compare-spindle',
      values: { speed: '0', expected: '12000' },
    });
  });
  test('travel past a limit, an axis too fast', () => {
    const found = proof(run, text, expected, stationOf({ x: { max: 30, speed: 20 } }));
    const codes = found.problems.map((p) => p.code);
    expect(codes).toContain('station.readback-travel');
    expect(found.problems).toContainEqual(
      expect.objectContaining({
        code: 'station.readback-axis-too-fast',
        values: { axis: 'X', speed: '20' },
      }),
    );
  });
  test('a cut past the edge of the surface', () => {
    const short = runOn({ ...cap, z1: 33, r1: 7 - (1.5 * 23) / 50 }, stationOf());
    expect(proof(short, text, expected).problems.map((p) => p.code)).toContain('station.readback-past-edge');
  });
  test('wild numbers end in problems, soon', () => {
    for (const word of ['X999999999999.0', 'A999999999999.0', 'Z-999999999999.0', 'A-3600.0']) {
      const found = proof(
        run,
        withLine(cuts[2]!, () => `G1 ${word} F1.0`),
        expected,
      );
      expect(found.ok).toBe(false);
    }
  });
  test('more work than the budget of steps', () => {
    const read = readProgram(text);
    if (!read.ok) throw new Error('not read');
    const seen = readback(read.program, run.surface, run.station);
    const found = compare(run.surface, seen, expected, undefined, 1000);
    expect(found.ok).toBe(false);
    expect(found.problems[0]).toMatchObject({ code: 'station.compare-too-much', values: { most: 1000 } });
  });
});
