import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { CutLine } from '../../src/cutting/cuts.js';
import type { Station } from '../../src/documents/schema/station.js';
import { prepareBlock } from '../../src/station/block.js';
import type { MachineSetup } from '../../src/station/machine-setup.js';
import { writeProgram } from '../../src/station/program.js';
import { expectedOf } from '../../src/station/prove.js';
import { readback } from '../../src/station/readback.js';
import { compare } from '../../src/station/readback-compare.js';
import { readProgram } from '../../src/station/reader.js';
import { barrel, blockOf, cap, head, prepared, runOn, stationOf, tube } from './lantern-coast.js';
import { type Cone, develop, halfAngle, type Pair, place, sheetPoint, surfaceZ } from './plain-frame.js';
import { type Plain, type PlainMove, plainly, strokes } from './plain-parser.js';

/** Lines whose depth changes: x, y and depth, mm. All fit any of the three surfaces. */
type Deep = readonly [x: number, y: number, depth: number];
const DEPTH = 0.12;
const PASSES = [0.05, 0.09, 0.12];

const grooved = (points: readonly Deep[], closed = false): CutLine => ({
  points: Float64Array.from(points.flatMap((p) => p.slice(0, 2))),
  closed,
  depths: Float64Array.from(points, (p) => p[2]),
});

const profiles: Readonly<Record<string, readonly [points: readonly Deep[], closed: boolean]>> = {
  ramp: [
    [
      [-3, 14, 0.02],
      [3, 18, 0.12],
    ],
    false,
  ],
  'down and up again, from nothing to nothing': [
    [
      [-3, 20, 0],
      [0, 21, 0.12],
      [3, 20, 0],
    ],
    false,
  ],
  'flat, with short ends': [
    [
      [-2, 25, 0],
      [-1.9, 25, 0.1],
      [1.9, 25.5, 0.1],
      [2, 25.5, 0],
    ],
    false,
  ],
  'a stretch of nothing between two grooves': [
    [
      [-3, 16, 0.08],
      [-1, 16, 0],
      [1, 17, 0],
      [3, 17, 0.12],
    ],
    false,
  ],
  'a closed one': [
    [
      [-2, 20, 0.03],
      [2, 20.5, 0.12],
      [1.5, 24, 0.06],
      [-1, 23, 0.12],
    ],
    true,
  ],
};

const along = (m: PlainMove) => m.x !== m.fromX || m.a !== m.fromA;

/** Depth along the normal where the tip stands; a radial cutter goes 1/cos(taper) deeper (plane geometry). */
const depthAt = (c: Cone, s: Station, x: number, a: number, z: number): number =>
  (surfaceZ(c, s, place(c, s, x, a).z) - z) * (s.setup === 'level' ? Math.cos(halfAngle(c)) : 1);

/** How far round a line the nearest point to p lies, its distance, and the depth asked there. */
function asked(line: readonly Deep[], [x, y]: Pair): { off: number; depth: number } {
  let best = { off: Number.POSITIVE_INFINITY, depth: 0 };
  for (let k = 1; k < line.length; k++) {
    const [[ax, ay, ad], [bx, by, bd]] = [line[k - 1]!, line[k]!];
    const [dx, dy] = [bx - ax, by - ay];
    const t = Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)));
    const off = Math.hypot(x - ax - t * dx, y - ay - t * dy);
    if (off < best.off) best = { off, depth: ad + t * (bd - ad) };
  }
  return best;
}

function written(cone: Cone, s: Station, line: CutLine, passes: readonly number[], turn = 359) {
  const run = runOn(cone, s, { speed: 12_000 });
  const block = blockOf([line], { turn, depth: passes.at(-1)!, passes });
  return { run, block, text: writeProgram(run, head, [prepared(run, block)]).text };
}

/** The feed moves of a text, a list for each pass: each begins with a plunge or where the way turns back. */
function passesOf(plain: Plain, count: number): PlainMove[][] {
  const moves = strokes(plain).flat().filter(along);
  return Array.from({ length: count }, (_, k) =>
    moves.slice((k * moves.length) / count, ((k + 1) * moves.length) / count),
  );
}

const surfaces = [
  ['cap', cap],
  ['barrel', barrel],
  ['tube', tube],
] as const;

describe.each(Object.entries(profiles))('%s', (_, [points, closed]) => {
  const loop = closed ? [...points, points[0]!] : points;
  for (const [name, cone] of surfaces) {
    for (const setup of ['level', 'tilted'] as const) {
      for (const feed of ['inverse-time', 'per-minute'] as const) {
        test(`on the ${name}, ${setup}, ${feed}: every pass goes to its depth or the line's, whichever is less`, () => {
          const s = stationOf({ setup, feed, xSign: -1, aSign: -1, xOffset: 55, aOffset: 13, zOffset: -2 });
          for (const passes of [[DEPTH], PASSES]) {
            const { run, text } = written(cone, s, grooved(points, closed), passes);
            const plain = plainly(text);
            passesOf(plain, passes.length).forEach((moves, k) => {
              for (const m of moves) {
                for (const t of [0, 0.25, 0.5, 0.75, 1]) {
                  const [x, a, z] = [
                    m.fromX + t * (m.x - m.fromX),
                    m.fromA + t * (m.a - m.fromA),
                    m.fromZ + t * (m.z - m.fromZ),
                  ];
                  const want = asked(loop, sheetPoint(cone, s, x, a, 359));
                  expect(want.off).toBeLessThan(0.002);
                  // The slope is at most 1 here, so 0.002 mm along is 0.002 mm down.
                  const error = depthAt(cone, s, x, a, z) - Math.min(want.depth, passes[k]!);
                  expect(Math.abs(error)).toBeLessThan(0.002);
                }
              }
              const ends = moves.map((m) => depthAt(cone, s, m.x, m.a, m.z));
              const most = Math.min(passes[k]!, Math.max(...points.map((p) => p[2])));
              expect(
                Math.max(...ends, depthAt(cone, s, moves[0]!.fromX, moves[0]!.fromA, moves[0]!.fromZ)),
              ).toBeCloseTo(most, 3);
            });
            checkFeeds(cone, s, plain, run);
          }
        });
      }
    }
  }
});

/** The way on the surface and in depth over its time is the feed; downward no faster than the plunge feed. */
function checkFeeds(cone: Cone, s: Station, plain: Plain, run: MachineSetup): void {
  for (const m of plain.moves.filter((one) => !one.rapid && along(one))) {
    const about = place(cone, s, m.fromX, m.fromA).angle;
    const [p, q] = [sheetPoint(cone, s, m.fromX, m.fromA, about), sheetPoint(cone, s, m.x, m.a, about)];
    const sunk = depthAt(cone, s, m.x, m.a, m.z) - depthAt(cone, s, m.fromX, m.fromA, m.fromZ);
    const long = Math.hypot(q[0] - p[0], q[1] - p[1], sunk);
    const linear = Math.hypot(m.x - m.fromX, m.z - m.fromZ);
    const minutes = plain.inverse ? 1 / m.f : (linear > 0 ? linear : Math.abs(m.a - m.fromA)) / m.f;
    expect(long / minutes).toBeLessThan(run.feed * 1.000_01);
    expect(sunk / minutes).toBeLessThan(run.plunge * 1.0001);
    const plunging = sunk > 0 && (sunk / long) * run.feed > run.plunge * 0.9999;
    if (!plunging) expect(long / minutes).toBeGreaterThan(run.feed * 0.999);
    else expect(sunk / minutes).toBeGreaterThan(run.plunge * 0.999);
  }
}

const proof = (run: MachineSetup, text: string, block: Parameters<typeof expectedOf>[1][number]) => {
  const read = readProgram(text);
  if (!read.ok) throw new Error(read.problems.map((p) => p.code).join('\n'));
  return compare(run.surface, readback(read.program, run.surface, run.station), expectedOf(run, [block]));
};

describe('read-back', () => {
  for (const [name, cone] of surfaces) {
    for (const setup of ['level', 'tilted'] as const) {
      test(`proves each of them on the ${name}, ${setup}`, () => {
        for (const [points, closed] of Object.values(profiles)) {
          for (const passes of [[DEPTH], PASSES]) {
            const { run, block, text } = written(cone, stationOf({ setup }), grooved(points, closed), passes);
            const found = proof(run, text, block);
            expect(found.problems).toEqual([]);
            expect(found.ok).toBe(true);
            expect(found.worstMm).toBeLessThanOrEqual(0.002);
            expect(found.depthError).toBeLessThanOrEqual(0.003 + 1e-9);
          }
        }
      });
    }
  }

  test('finds one point of any line 0.01 mm too deep or too shallow', () => {
    let tried = 0;
    for (const [points, closed] of Object.values(profiles)) {
      for (let k = 0; k < points.length; k++) {
        for (const by of [0.01, -0.01]) {
          const wrong = points.map(([x, y, d], i): Deep => [x, y, i === k ? d + by : d]);
          if (wrong[k]![2] < 0) continue;
          tried++;
          const deepest = Math.max(DEPTH, wrong[k]![2]);
          const { run, text } = written(cap, stationOf(), grooved(wrong, closed), [deepest]);
          const right = blockOf([grooved(points, closed)], { turn: 359, depth: deepest, passes: [deepest] });
          const found = proof(run, text, right);
          expect(found.ok).toBe(false);
          expect(by > 0 ? found.deep : found.shallow).toBeGreaterThan(0);
          expect(found.extra + found.missing).toBe(0);
        }
      }
    }
    expect(tried).toBeGreaterThan(20);
  });

  test('finds one Z word of a program 0.01 mm too deep or too shallow', () => {
    const [points, closed] = profiles['a closed one']!;
    const { run, block, text } = written(barrel, stationOf(), grooved(points, closed), [DEPTH]);
    const lines = text.split('\n');
    const moves = lines.flatMap((l, n) => (/^G1 .*[XA].* Z/.test(l) ? [n] : []));
    expect(moves.length).toBeGreaterThan(3);
    for (const n of moves) {
      for (const by of [0.01, -0.01]) {
        const bent = lines.map((l, i) =>
          i === n ? l.replace(/Z(-?[\d.]+)/, (_, z) => `Z${(Number(z) + by).toFixed(4)}`) : l,
        );
        const found = proof(run, bent.join('\n'), block);
        expect(found.ok).toBe(false);
        expect(by < 0 ? found.deep : found.shallow).toBeGreaterThan(0);
      }
    }
  });

  test('any depths along any polyline on any cone', () => {
    const point = fc.tuple(
      fc.double({ min: -40, max: 40, noNaN: true }),
      fc.double({ min: 15, max: 35, noNaN: true }),
      fc.double({ min: 0, max: DEPTH, noNaN: true }),
    );
    fc.assert(
      fc.property(
        fc.double({ min: 3, max: 12, noNaN: true }),
        fc.double({ min: 3, max: 12, noNaN: true }),
        fc.array(point, { minLength: 2, maxLength: 6 }),
        fc.boolean(),
        fc.constantFrom('level' as const, 'tilted' as const),
        fc.constantFrom([DEPTH], PASSES),
        (r0, r1, places, closed, setup, passes) => {
          fc.pre(Math.abs(r0 - r1) > 0.05 && places.some((p) => p[2] > 0.001));
          const cone: Cone = { z0: 0, z1: 50, r0, r1 };
          const points = places.map(([angle, z, d]): Deep => [...develop(cone, z, angle), d]);
          const s = stationOf({ setup, a: { speed: 1e6 } });
          const { run, block, text } = written(cone, s, grooved(points, closed), passes);
          const found = proof(run, text, block);
          expect(found.problems).toEqual([]);
          expect(found.ok).toBe(true);
        },
      ),
      { numRuns: 80, seed: 12 },
    );
  });
});

describe('passes', () => {
  const plunges = (text: string) =>
    strokes(plainly(text))
      .flat()
      .filter((m) => !along(m));

  test('a line that a pass would only repeat is left after the pass that reaches its depth', () => {
    const shallow = grooved([
      [-2, 20, 0.02],
      [2, 20, 0.05],
    ]);
    const { run, block, text } = written(cap, stationOf(), shallow, PASSES);
    expect(text).toBe(written(cap, stationOf(), shallow, [0.05]).text);
    expect(proof(run, text, block).ok).toBe(true);
  });

  test('the first plunge goes to the first point, no deeper', () => {
    const { text } = written(tube, stationOf(), grooved(profiles.ramp![0]), [DEPTH]);
    expect(plunges(text)[0]!.z).toBeCloseTo(-0.02, 9);
  });

  test('depths all alike are cut as a line of one depth is', () => {
    const [points, closed] = profiles['a closed one']!;
    const flat = grooved(
      points.map(([x, y]): Deep => [x, y, DEPTH]),
      closed,
    );
    for (const passes of [[DEPTH], PASSES]) {
      const { depths: _, ...plain } = flat;
      expect(written(tube, stationOf(), flat, passes).text).toBe(
        written(tube, stationOf(), plain, passes).text,
      );
    }
  });

  test('an open line back where it began, but deeper there, goes down where it ends', () => {
    const points: Deep[] = [
      [-2, 20, 0.02],
      [2, 20, 0.06],
      [0, 24, 0.06],
      [-2, 20, 0.1],
    ];
    const { run, block, text } = written(tube, stationOf(), grooved(points), [0.05, 0.1]);
    const found = proof(run, text, block);
    expect(found.problems).toEqual([]);
  });

  test('a step in depth is a plunge, and a pass above it goes by', () => {
    const points: Deep[] = [
      [-2, 20, 0.04],
      [0, 20, 0.04],
      [0.000_001, 20, 0.1],
      [2, 20, 0.1],
    ];
    for (const passes of [[0.1], [0.03, 0.1], [0.03, 0.07, 0.1]]) {
      const { run, block, text } = written(tube, stationOf(), grooved(points), passes);
      expect(text).not.toMatch(/Infinity|NaN/);
      expect(proof(run, text, block).problems).toEqual([]);
      const steps = plunges(text).filter((m) => Math.abs(m.x - 20) < 1e-9 && m.fromZ < 0 && m.z < m.fromZ);
      expect(steps.some((m) => m.z === -0.1 && m.fromZ >= -0.07)).toBe(true);
    }
  });
});

describe('what cannot be', () => {
  test('a slope that asks more of Z than it has is refused with the feed that would do', () => {
    const steep = grooved([
      [-2, 20, 0],
      [-1.9, 20, 0.1],
    ]);
    const run = runOn(tube, stationOf({ z: { speed: 60 } }), { feed: 120, plunge: 40 });
    const made = prepareBlock(run, blockOf([steep], { depth: 0.1, passes: [0.1] }));
    expect(made).toMatchObject([{ code: 'station.axis-too-slow', values: { axis: 'Z' } }]);
    expect(Array.isArray(made) && made[0]!.values.largest).toMatch(/^84\.8/);
  });

  test('the extent holds the deepest point, not the block', () => {
    const run = runOn(tube, stationOf());
    const one = prepared(
      run,
      blockOf([grooved(profiles['flat, with short ends']![0])], { depth: 0.12, passes: [0.12] }),
    );
    expect(one.extent.z[0]).toBeCloseTo(-0.1, 9);
  });
});
