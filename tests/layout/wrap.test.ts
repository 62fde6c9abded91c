import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type RingPattern, ringLines } from '../../src/artwork/engine-turned.js';
import { placeRigid, placeStretched, repeatPlaces, wrapRound } from '../../src/layout/wrap.js';
import { surfaceBetween } from '../../src/surface/part-surfaces.js';

/** A frustum, and all that follows from it, written out again without the house's surfaces. */
interface Frustum {
  readonly z0: number;
  readonly z1: number;
  readonly r0: number;
  readonly r1: number;
}

const surfaceOf = ({ z0, z1, r0, r1 }: Frustum) => surfaceBetween('s', z0, z1, r0, r1);
const slantLength = ({ z0, z1, r0, r1 }: Frustum) => Math.hypot(z1 - z0, r1 - r0);

/** A sheet point to angle from the y axis (radians) and slant from the lower edge, by the rolling of a cone. */
function polar(f: Frustum, x: number, y: number): { angle: number; slant: number } {
  if (f.r0 === f.r1) return { angle: x / f.r0, slant: y };
  const sin = Math.abs(f.r1 - f.r0) / slantLength(f);
  const p0 = f.r0 / sin;
  const narrows = f.r1 < f.r0;
  const v = narrows ? p0 - y : p0 + y;
  const p = Math.hypot(x, v);
  return { angle: Math.atan2(x, v) / sin, slant: narrows ? p0 - p : p - p0 };
}

/** The same in space, with the part turned by `turn` degrees. */
function inSpace(f: Frustum, x: number, y: number, turn: number): [number, number, number] {
  const { angle, slant } = polar(f, x, y);
  const share = slant / slantLength(f);
  const r = f.r0 + share * (f.r1 - f.r0);
  const a = angle + (turn * Math.PI) / 180;
  return [r * Math.cos(a), r * Math.sin(a), f.z0 + share * (f.z1 - f.z0)];
}

/** How far an angle is from a whole number of turns, degrees. */
const around = (deg: number) => Math.abs(((((deg + 180) % 360) + 360) % 360) - 180);
const apart = (p: readonly number[], q: readonly number[]) => Math.hypot(...p.map((v, i) => v - q[i]!));
const some = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Cylinders, slight tapers and steep ones, of either way. */
const frusta: fc.Arbitrary<Frustum> = fc
  .tuple(
    some(-20, 20),
    some(10, 80),
    some(3, 9),
    fc.oneof(some(-0.6, 1.5), some(-1e-3, 1e-3), fc.constant(0)),
  )
  .filter(([, , , change]) => change === 0 || Math.abs(change) > 1e-6)
  .map(([z0, length, r0, change]) => ({ z0, z1: z0 + length, r0, r1: r0 * (1 + change) }));

const spec = fc.record({
  form: fc.constantFrom('waves', 'barleycorn', 'basket', 'moire'),
  count: fc.integer({ min: 1, max: 72 }),
  second: fc.integer({ min: 1, max: 72 }),
  amplitude: some(0, 0.6),
  rows: fc.integer({ min: 1, max: 3 }),
  rise: some(0.1, 2),
  step: some(-1, 1),
  strands: fc.integer({ min: 1, max: 3 }),
}) as unknown as fc.Arbitrary<RingPattern>;

const TOLERANCE = 0.0008;

describe('a line that goes all round', () => {
  test('closes: 1,000 random tapers and counts, no gap at the seam over 1e-6 mm', () => {
    let worst = 0;
    fc.assert(
      fc.property(frusta, spec, some(0, 360), some(0.3, 0.7), (f, pattern, angle, up) => {
        for (const line of ringLines(pattern, TOLERANCE)) {
          const { points, turn, closed } = wrapRound(surfaceOf(f), line, up * slantLength(f), angle);
          expect(closed).toBe(false);
          const first = inSpace(f, points[0]!, points[1]!, turn);
          const last = inSpace(f, points.at(-2)!, points.at(-1)!, turn);
          const [a, b] = [polar(f, points[0]!, points[1]!), polar(f, points.at(-2)!, points.at(-1)!)];
          expect(b.angle - a.angle).toBeCloseTo(2 * Math.PI, 7);
          worst = Math.max(worst, apart(first, last));
        }
      }),
      { numRuns: 1000, seed: 1 },
    );
    expect(worst).toBeLessThanOrEqual(1e-6);
  });

  test('begins at its angle and follows its wave on the part to within 0.001 mm', () => {
    fc.assert(
      fc.property(
        frusta,
        some(0, 360),
        some(0.05, 0.5),
        fc.integer({ min: 1, max: 20 }),
        some(-1, 1),
        (...of) => {
          const [f, angle, amplitude, count, step] = of;
          const [, line] = ringLines({ form: 'waves', count, amplitude, rows: 2, rise: 1, step }, TOLERANCE);
          const middle = slantLength(f) / 2;
          const { points, turn } = wrapRound(surfaceOf(f), line!, middle, angle);
          expect(around(turn - 180 - angle)).toBeLessThan(1e-9);
          for (let i = 2; i < points.length; i += 2) {
            for (const t of [0, 0.5]) {
              const x = points[i]! + t * (points[i - 2]! - points[i]!);
              const y = points[i + 1]! + t * (points[i - 1]! - points[i + 1]!);
              const at = polar(f, x, y);
              const wave = count * (at.angle + Math.PI) + 2 * Math.PI * step;
              const truth = middle + 0.5 + amplitude * Math.sin(wave);
              const r = f.r0 + (at.slant / slantLength(f)) * (f.r1 - f.r0);
              const steep = Math.hypot(1, (amplitude * count * Math.cos(wave)) / r);
              expect(Math.abs(at.slant - truth) / steep).toBeLessThanOrEqual(0.001);
            }
          }
        },
      ),
      { numRuns: 100, seed: 1 },
    );
  });

  test('is as long as a sine wave is by the complete elliptic integral', () => {
    // A wave of height 1 and length 2 pi is 4 sqrt(2) E(m), m = 1/2, long; E = 1.350643881 in Abramowitz & Stegun,
    // Handbook of Mathematical Functions, table 17.1 (from memory).
    const [r, count] = [6, 12];
    const pattern: RingPattern = { form: 'waves', count, amplitude: r / count, rows: 1, rise: 1, step: 0 };
    const [line] = ringLines(pattern, 1e-6);
    const { points } = wrapRound(surfaceBetween('s', 0, 20, r, r), line!, 10, 0);
    let length = 0;
    for (let i = 2; i < points.length; i += 2)
      length += Math.hypot(points[i]! - points[i - 2]!, points[i + 1]! - points[i - 1]!);
    expect(length / r).toBeCloseTo(4 * Math.SQRT2 * 1.350643881, 4);
  });

  test('one wave of no height is a ring', () => {
    const f = { z0: 0, z1: 20, r0: 7, r1: 3 };
    const [line] = ringLines({ form: 'waves', count: 1, amplitude: 0, rows: 1, rise: 1, step: 0 }, TOLERANCE);
    const { points } = wrapRound(surfaceOf(f), line!, 5, 90);
    for (let i = 2; i < points.length; i += 2) {
      const [x, y] = [(points[i]! + points[i - 2]!) / 2, (points[i + 1]! + points[i - 1]!) / 2];
      expect(Math.abs(polar(f, x, y).slant - 5)).toBeLessThanOrEqual(0.0002);
    }
  });

  test('never comes back onto a cone from past its apex', () => {
    // The apex is 7 sqrt(2) mm of slant from the lower edge; a row at 12 mm would be mirrored through it.
    const f = { z0: 0, z1: 5, r0: 7, r1: 2 };
    const [line] = ringLines(
      { form: 'waves', count: 6, amplitude: 0.2, rows: 1, rise: 1, step: 0 },
      TOLERANCE,
    );
    const { points } = wrapRound(surfaceOf(f), line!, 12, 0);
    for (let i = 0; i < points.length; i += 2)
      expect(polar(f, points[i]!, points[i + 1]!).slant).toBeCloseTo(7 * Math.SQRT2, 6);
  });
});

describe('repeats', () => {
  const repeats = fc.record({
    count: fc.integer({ min: 1, max: 200 }),
    rows: fc.integer({ min: 1, max: 6 }),
    rise: some(0.1, 5),
    step: some(-1, 1),
    mirror: fc.constantFrom('none' as const, 'alternate' as const),
  });

  test('are a whole number to the ring, by equal angles, each row stepped, about the middle', () => {
    fc.assert(
      fc.property(repeats, some(-720, 720), (repeat, angle) => {
        const places = repeatPlaces(repeat, angle);
        expect(places).toHaveLength(repeat.count * repeat.rows);
        let worst = 0;
        for (let row = 0; row < repeat.rows; row++) {
          const own = places.filter((p) => p.row === row);
          expect(own).toHaveLength(repeat.count);
          const middle = (row - (repeat.rows - 1) / 2) * repeat.rise;
          for (const [i, place] of own.entries()) {
            const next = own[(i + 1) % own.length]!;
            worst = Math.max(worst, around(next.turn - place.turn - 360 / repeat.count));
            worst = Math.max(worst, Math.abs(place.up - middle));
          }
          worst = Math.max(worst, around(own[0]!.turn - angle - (row * repeat.step * 360) / repeat.count));
        }
        expect(worst).toBeLessThan(1e-9);
      }),
      { numRuns: 300, seed: 1 },
    );
  });

  test('are mirrored by turns along the ring and from row to row', () => {
    const places = repeatPlaces({ count: 4, rows: 2, rise: 1, step: 0, mirror: 'alternate' }, 0);
    const rows = [0, 1].map((row) => places.filter((p) => p.row === row).map((p) => p.mirrored));
    expect(rows).toEqual([
      [false, true, false, true],
      [true, false, true, false],
    ]);
    expect(
      repeatPlaces({ count: 4, rows: 2, rise: 1, step: 0, mirror: 'none' }, 0).some((p) => p.mirrored),
    ).toBe(false);
  });

  const shape = fc.array(fc.tuple(some(-2, 2), some(-2, 2)), { minLength: 3, maxLength: 12 });

  test('undistorted: every distance stays what it was, mirrored or not', () => {
    fc.assert(
      fc.property(
        shape,
        some(-30, 30),
        some(-360, 360),
        fc.boolean(),
        (corners, slant, rotation, mirrored) => {
          const points = Float64Array.from(corners.flat());
          const [set] = placeRigid([{ points, closed: true }], slant, rotation, mirrored);
          const at = (line: Float64Array, i: number) => [line[2 * i]!, line[2 * i + 1]!];
          for (let i = 0; i < corners.length; i++) {
            for (let j = 0; j < i; j++) {
              const was = apart(at(points, i), at(points, j));
              expect(Math.abs(apart(at(set!.points, i), at(set!.points, j)) - was)).toBeLessThan(1e-9);
            }
            // The middle of the drawing goes to the y axis, at its slant.
            expect(apart(at(set!.points, i), [0, slant])).toBeCloseTo(apart(at(points, i), [0, 0]), 9);
          }
          const turns = (line: Float64Array) => {
            let twice = 0;
            for (let i = 0, j = line.length - 2; i < line.length; j = i, i += 2)
              twice += line[j]! * line[i + 1]! - line[i]! * line[j + 1]!;
            return twice;
          };
          expect(turns(set!.points) + (mirrored ? 1 : -1) * turns(points)).toBeCloseTo(0, 6);
        },
      ),
      { numRuns: 300, seed: 1 },
    );
  });

  test('stretched: neighbours meet edge to edge all round, at every height', () => {
    fc.assert(
      fc.property(
        frusta,
        fc.integer({ min: 2, max: 40 }),
        some(0.5, 6),
        fc.boolean(),
        (f, count, width, mirrored) => {
          const half = width / 2;
          const edges = [-half, half].map((x) => ({
            points: Float64Array.of(x, -2, x, 0.3, x, 2),
            closed: false,
          }));
          const [left, right] = placeStretched(
            surfaceOf(f),
            edges,
            slantLength(f) / 2,
            width,
            count,
            mirrored,
          );
          const places = repeatPlaces({ count, rows: 1, rise: 1, step: 0, mirror: 'none' }, 17);
          const [ahead, behind] = mirrored ? [left!, right!] : [right!, left!];
          places.forEach((place, i) => {
            const next = places[(i + 1) % count]!;
            for (let k = 0; k < ahead.points.length; k += 2) {
              const a = inSpace(f, ahead.points[k]!, ahead.points[k + 1]!, place.turn);
              const b = inSpace(f, behind.points[k]!, behind.points[k + 1]!, next.turn);
              expect(apart(a, b)).toBeLessThan(1e-6);
            }
          });
        },
      ),
      { numRuns: 200, seed: 1 },
    );
  });

  test('stretched: lines stay straight in angle and slant, within 0.001 mm', () => {
    fc.assert(
      fc.property(frusta, shape, fc.integer({ min: 1, max: 12 }), (f, corners, count) => {
        const points = Float64Array.from(corners.flat());
        const middle = slantLength(f) / 2;
        const [set] = placeStretched(surfaceOf(f), [{ points, closed: true }], middle, 4, count, false);
        const share = (2 * Math.PI) / count / 4;
        const line = set!.points;
        for (let i = 0, j = line.length - 2; i < line.length; j = i, i += 2) {
          const at = polar(f, (line[i]! + line[j]!) / 2, (line[i + 1]! + line[j + 1]!) / 2);
          const r = f.r0 + (at.slant / slantLength(f)) * (f.r1 - f.r0);
          let nearest = Number.POSITIVE_INFINITY;
          corners.forEach(([ax, ay], k) => {
            const [bx, by] = corners[(k + 1) % corners.length]!;
            // Beside so short a way as a chord's, a millimetre round is r mm of angle.
            const [ux, uy] = [(ax * share - at.angle) * r, ay + middle - at.slant];
            const [dx, dy] = [(bx - ax) * share * r, by - ay];
            const t = Math.min(1, Math.max(0, -(ux * dx + uy * dy) / (dx * dx + dy * dy || 1)));
            nearest = Math.min(nearest, Math.hypot(ux + t * dx, uy + t * dy));
          });
          expect(nearest).toBeLessThanOrEqual(0.001);
        }
      }),
      { numRuns: 200, seed: 1 },
    );
  });

  test('a closed drawing stays closed without its first point again', () => {
    const square = { points: Float64Array.of(-1, -1, 1, -1, 1, 1, -1, 1), closed: true };
    const [set] = placeStretched(surfaceBetween('s', 0, 20, 6, 6), [square], 10, 2, 12, false);
    expect(set!.closed).toBe(true);
    expect(set!.points).toHaveLength(8);
    expect(set!.points[0]).toBeCloseTo((-6 * Math.PI) / 12, 9);
  });
});
