import { describe, expect, test } from 'vitest';
import { rapidMinutes } from '../../src/station/block.js';
import { safeHeight } from '../../src/station/machine-setup.js';
import { writeProgram } from '../../src/station/program.js';
import {
  barrel,
  blockOf,
  cap,
  figure,
  head,
  lineOf,
  prepared,
  runOn,
  type StationWish,
  stationOf,
  tube,
} from './lantern-coast.js';
import { type Cone, halfAngle, place, sheetPoint, surfaceZ } from './plain-frame.js';
import { plainly, strokes } from './plain-parser.js';

const wishes: readonly (readonly [string, Cone, StationWish])[] = [
  ['level cap from touch', cap, {}],
  [
    'level cap from the axis, signs turned',
    cap,
    { zero: 'axis', xSign: -1, aSign: -1, xOffset: 80, zOffset: -1 },
  ],
  ['tilted barrel', barrel, { setup: 'tilted', aOffset: 720, zOffset: 2 }],
  ['level barrel per minute', barrel, { feed: 'per-minute' }],
  ['tube, three figures', tube, { decimals: 3 }],
];
const write = (cone: Cone, wish: StationWish, turn = 359) => {
  const run = runOn(cone, stationOf(wish), { speed: 12_000 });
  const a = prepared(run, blockOf(figure, { turn }));
  const b = prepared(
    run,
    blockOf([figure[1]!], { turn: 40, key: 'k2', name: '2', passes: [0.02, 0.04, 0.06] }),
  );
  return { run, text: writeProgram(run, head, [a, b]).text };
};

describe.each(wishes)('%s', (_, cone, wish) => {
  const { run, text } = write(cone, wish);
  const plain = plainly(text);
  const s = run.station;
  const clear = Math.max(surfaceZ(cone, s, cone.z0), surfaceZ(cone, s, cone.z1)) + s.safe;
  const unit = 10 ** -s.decimals;

  test('the moves are those of a careful hand', () => {
    const first = plain.moves[0]!;
    expect(plain.lines[first.n]).toMatch(/^G0 Z[\d.-]+$/);
    expect(plain.moves.at(-1)!.rapid).toBe(true);
    for (const m of plain.moves.slice(1)) {
      const over = m.z - surfaceZ(cone, s, place(cone, s, m.x, m.a).z);
      if (m.rapid && (m.x !== m.fromX || m.a !== m.fromA)) {
        expect(Math.min(m.z, m.fromZ)).toBeGreaterThanOrEqual(clear - 1e-9);
        expect(m.z).toBe(m.fromZ);
      } else if (m.rapid && m.z < m.fromZ) expect(over).toBeCloseTo(s.approach, s.decimals - 1);
      else if (m.rapid) expect(m.z).toBeGreaterThanOrEqual(clear - 1e-9);
      else if (m.x !== m.fromX || m.a !== m.fromA) expect(over).toBeLessThan(0);
    }
  });

  test('depth is along the normal, at every pass', () => {
    // A radial cutter must go depth / cos(taper) down to be depth below the surface along its normal: plane geometry.
    const factor = s.setup === 'level' ? 1 / Math.cos(halfAngle(cone)) : 1;
    const seen = new Set<number>();
    for (const m of plain.moves.filter((one) => !one.rapid)) {
      const down = surfaceZ(cone, s, place(cone, s, m.x, m.a).z) - m.z;
      const pass = [0.02, 0.04, 0.06].find((d) => Math.abs(d * factor - down) <= unit * 0.51 + 1e-9);
      expect(pass).toBeDefined();
      seen.add(pass!);
    }
    expect(seen.size).toBe(3);
  });

  test('every F is right to 0.1 % of the feed', () => {
    for (const m of plain.moves.filter((one) => !one.rapid)) {
      expect(m.ownF).toBe(true);
      const along = m.x !== m.fromX || m.a !== m.fromA;
      const about = place(cone, s, m.fromX, m.fromA).angle;
      const [p, q] = [sheetPoint(cone, s, m.fromX, m.fromA, about), sheetPoint(cone, s, m.x, m.a, about)];
      const length = along ? Math.hypot(q[0] - p[0], q[1] - p[1]) : Math.abs(m.z - m.fromZ);
      const linear = Math.hypot(m.x - m.fromX, m.z - m.fromZ);
      const minutes = plain.inverse ? 1 / m.f : (linear > 0 ? linear : Math.abs(m.a - m.fromA)) / m.f;
      const rate = length / minutes;
      const asked = along ? run.feed : run.plunge;
      expect(rate / asked).toBeGreaterThan(0.999);
      expect(rate / asked).toBeLessThan(1.000001);
    }
  });

  test('nothing leaves its limits, and the same inputs give the same bytes', () => {
    for (const m of plain.moves) {
      expect(m.z).toBeLessThanOrEqual(s.axes.z.max);
      expect(m.z).toBeGreaterThanOrEqual(s.axes.z.min);
      if (!Number.isNaN(m.x)) expect(Math.abs(m.x)).toBeLessThanOrEqual(500);
    }
    expect(write(cone, wish).text).toBe(text);
  });
});

describe('the text', () => {
  const { text } = write(cap, { before: ['G54', 'M8'], after: ['M9'] });
  test('begins with what it is and ends with the end', () => {
    const lines = text.split('\n');
    expect(lines.slice(0, 8)).toEqual([
      '(edition: Nine Lights)',
      '(label: 12/90)',
      '(design: 0123456789abcdef)',
      '(part: cap)',
      '(surface: field)',
      '(cutter: point 60)',
      '(set-up: bench rotary, level)',
      '(documents: part 01, station 02)',
    ]);
    expect(lines.slice(8, 14)).toEqual(['G21 G90', 'G54', 'M8', 'G93', 'G0 Z5.0000', 'M3 S12000']);
    expect(lines.slice(-4)).toEqual(['M5', 'M9', 'M2', '']);
  });

  test('a cutter that does not turn has no spindle words', () => {
    const run = runOn(cap, stationOf());
    expect(writeProgram(run, head, [prepared(run, blockOf(figure))]).text).not.toMatch(/M3|M5|S\d/);
  });

  test('a block reads the same wherever it stands', () => {
    const run = runOn(cap, stationOf());
    const one = prepared(run, blockOf(figure));
    const two = prepared(run, blockOf([figure[1]!], { turn: 90 }));
    expect(writeProgram(run, head, [one, two]).text).toContain(`${one.text}${two.text}`);
    expect(writeProgram(run, head, [two, one]).text).toContain(`${two.text}${one.text}`);
    expect(one.text.startsWith('(cut: number 1)\nG0 X')).toBe(true);
    expect(one.text.trimEnd().split('\n').at(-1)).toBe('G0 Z5.0000');
  });

  test('minutes are lengths over feeds and rapids over axis speeds', () => {
    const s = stationOf({ x: { speed: 600 }, a: { speed: 3600 }, z: { speed: 300 } });
    const run = runOn(tube, s, { feed: 60, plunge: 30 });
    // 4 mm along the tube at 60, one pass; from 5 mm to 0.4 at 300, 0.4 + 0.05 at 30, and 5.05 up at 300.
    const straight = lineOf([
      [0, 10],
      [0, 14],
    ]);
    const block = (turn: number) => prepared(run, blockOf([straight], { turn, depth: 0.05, passes: [0.05] }));
    const one = 4 / 60 + 4.6 / 300 + 0.45 / 30 + 5.05 / 300;
    expect(block(0).minutes).toBeCloseTo(one, 9);
    // Between them 4 mm back at 600 and 90 degrees at 3600: the turning takes longer.
    expect(rapidMinutes(run, block(0).end, block(90).start)).toBeCloseTo(90 / 3600, 9);
    expect(writeProgram(run, head, [block(0), block(90)]).minutes).toBeCloseTo(2 * one + 90 / 3600, 9);
  });

  test('safe height is the highest of the surface and the clearance, never rounded down', () => {
    expect(safeHeight(runOn(cap, stationOf()))).toBe(5);
    expect(safeHeight(runOn(barrel, stationOf()))).toBe(7);
    expect(safeHeight(runOn(barrel, stationOf({ zero: 'axis' })))).toBe(11.5);
    expect(safeHeight(runOn(barrel, stationOf({ setup: 'tilted' })))).toBe(5);
    const odd = { z0: 0, z1: 40, r0: 5, r1: 5.123_41 };
    expect(safeHeight(runOn(odd, stationOf({ decimals: 3 })))).toBe(5.124);
  });

  test('an open line is cut there and back, a closed one round and round, without lifting', () => {
    const run = runOn(cap, stationOf());
    const [round, open] = strokes(plainly(prepared(run, blockOf(figure)).text));
    const downs = (stroke: typeof open) => stroke!.filter((m) => m.x === m.fromX && m.a === m.fromA);
    expect(downs(round)).toHaveLength(2);
    expect(downs(round)[1]!.x).toBe(downs(round)[0]!.x);
    expect(downs(open)).toHaveLength(2);
    expect(downs(open)[1]!.a).not.toBe(downs(open)[0]!.a);
    expect(open!.at(-1)!.a).toBe(downs(open)[0]!.a);
  });
});
