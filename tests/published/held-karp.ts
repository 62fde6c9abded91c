import { describe, expect, test } from 'vitest';
import type { CutBlock } from '../../src/cutting/cuts.js';
import { orderTour } from '../../src/cutting/order.js';
import type { Surface } from '../../src/surface/surface.js';
import { heldKarp } from '../cutting/tour-bound.js';
import { sheets } from '../cutting/tour-sheets.js';

/*
 * Moves in the air against the bound of Held and Karp (1970; tour-bound.ts, from memory) on fifty sheets. The bound is
 * for lines that begin where they are drawn: an open line either way round, a closed one at its first point. Where
 * closed lines may begin anywhere the way must be no longer than that.
 */
const MOST = 1.08;
/** A bound nearer the way than this needs no branching. */
const BRANCHED = 1.078;
/** Distances that the search may ask for. */
const MOST_STEPS = 30_000_000;

type Spot = readonly [number, number, number];

/** Where points of a one-line block lie: angle, z and radius. */
const spots = ({ turn, lines }: CutBlock, surface: Surface): Spot[] => {
  const [{ points, closed }] = [lines[0]!];
  const all = Array.from({ length: points.length / 2 }, (_, k): Spot => {
    const { z, angle } = surface.toSurfaceNear(points[2 * k]!, points[2 * k + 1]!);
    return [turn + angle, z, surface.radius(z)];
  });
  return closed ? all : [all[0]!, all.at(-1)!];
};

/** Distance on the unrolled sector by the law of cosines, or by Pythagoras on a cylinder. */
function between(surface: Surface, [a, z, r]: Spot, [b, y, s]: Spot): number {
  const turn = (((((b - a + 180) % 360) + 360) % 360) - 180) * (Math.PI / 180);
  const sin =
    (surface.radius(surface.z1) - surface.radius(surface.z0)) /
    (surface.slant(surface.z1) - surface.slant(surface.z0));
  if (Math.abs(sin) < 1e-9) return Math.hypot(r * turn, y - z);
  const [p, q] = [r / Math.abs(sin), s / Math.abs(sin)];
  return Math.sqrt(Math.max(0, p * p + q * q - 2 * p * q * Math.cos(turn * Math.abs(sin))));
}

function airOf(surface: Surface, blocks: readonly CutBlock[]): number {
  let sum = 0;
  for (let k = 1; k < blocks.length; k++) {
    const before = spots(blocks[k - 1]!, surface);
    const from = blocks[k - 1]!.lines[0]!.closed ? before[0]! : before.at(-1)!;
    sum += between(surface, from, spots(blocks[k]!, surface)[0]!);
  }
  return sum;
}

/** Distances between all points of `count` nodes. */
function table(count: number, d: (i: number, j: number) => number): Float64Array {
  const out = new Float64Array(count * count);
  for (let i = 0; i < count; i++)
    for (let j = 0; j < i; j++) {
      out[i * count + j] = d(i, j);
      out[j * count + i] = out[i * count + j]!;
    }
  return out;
}

/** Two nodes a line, both in one place for a closed one. */
function bound(surface: Surface, blocks: readonly CutBlock[], air: number): number {
  const nodes = blocks.flatMap((block) => {
    const all = spots(block, surface);
    return [all[0]!, block.lines[0]!.closed ? all[0]! : all[1]!];
  });
  const d = table(nodes.length, (i, j) => between(surface, nodes[i]!, nodes[j]!));
  return heldKarp(nodes.length, d, air, air / BRANCHED);
}

const drawn = (blocks: readonly CutBlock[]): CutBlock[] =>
  blocks.map((b) => ({
    ...b,
    lines: b.lines.map((l) => (l.closed ? { ...l, points: l.points.slice(0, 2) } : l)),
  }));

/** Every so manieth of the sheets. */
export function boundTours(every: number): void {
  describe('moves in the air against the bound of Held and Karp', () => {
    test('the sheets are what they are said to be', () => {
      expect(sheets).toHaveLength(50);
      const counts = sheets.map((s) => s.blocks.length);
      expect(Math.min(...counts)).toBeGreaterThanOrEqual(20);
      expect(Math.max(...counts)).toBeGreaterThanOrEqual(480);
    });

    test.each(sheets.filter((_, k) => k % every === 0))('$name', ({ surface, blocks }) => {
      let steps = 0;
      const countSteps = (more: number) => {
        steps += more;
      };
      const order = orderTour(surface, blocks, { countSteps });
      expect(new Set(order.map((b) => b.key.replace(/ (turned|from \d+)$/, ''))).size).toBe(blocks.length);
      // One point stands for each closed line: there is nowhere else it could begin.
      const air = airOf(surface, orderTour(surface, drawn(blocks)));
      const ratio = air / bound(surface, blocks, air);
      console.log(`${blocks.length} marks: ${ratio.toFixed(4)} of the bound, ${steps} steps`);
      expect(ratio).toBeGreaterThan(1 - 1e-9);
      expect(ratio).toBeLessThanOrEqual(MOST);
      expect(airOf(surface, order)).toBeLessThanOrEqual(air + 1e-9);
      expect(steps).toBeLessThan(MOST_STEPS);
    });
  });
}
