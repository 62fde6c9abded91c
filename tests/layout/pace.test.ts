import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Letter, lettersOf } from '../../src/layout/clearance-evaluator.js';
import { placeGlyph, placeOnSheet, type TextDirection } from '../../src/layout/glyph-placement.js';
import { inkReach, paceOfMark, paceOfShrinking } from '../../src/layout/pace.js';
import { shapeLine } from '../../src/lettering/shaped-line.js';
import { cone } from '../../src/surface/cone.js';
import { cylinder } from '../../src/surface/cylinder.js';
import type { Place, Surface } from '../../src/surface/surface.js';
import { toRad } from '../../src/units.js';
import { font } from './requests.js';

const LENGTH_MM = 30;
const AT: Place = { z: LENGTH_MM / 2, angle: 20 };

const some = (min: number, max: number) => fc.double({ min, max, noNaN: true });
interface Move {
  readonly radius: number;
  readonly slope: number;
  readonly size: number;
  readonly words: string;
  readonly mark: TextDirection;
  readonly dz: number;
  readonly da: number;
}
const moves: fc.Arbitrary<Move> = fc.record({
  radius: some(6, 9),
  slope: fc.oneof(fc.constant(0), some(-0.3, 0.3)),
  size: some(0.5, 3),
  words: fc.constantFrom('I', '12/90', 'NINE LIGHTS'),
  mark: fc.record({
    baseline: fc.constantFrom('ring' as const, 'lengthwise' as const, 'helix' as const),
    reading: fc.constantFrom('up' as const, 'down' as const),
    pitch: some(2, 20),
  }),
  dz: fc.oneof(fc.constant(0), some(-3, 3)),
  da: fc.oneof(fc.constant(0), some(-40, 40)),
});

/** A surface 30 mm long of this radius at its middle, where the words stand, and the zone of a move from there. */
function setUp({ radius, slope, words, dz, da }: Move) {
  const half = slope * AT.z;
  const surface =
    Math.abs(slope) < 1e-6
      ? cylinder('s', 0, LENGTH_MM, radius)
      : cone('s', 0, LENGTH_MM, radius - half, radius + half);
  const to: Place = { z: AT.z + dz, angle: AT.angle + da };
  const zone = {
    z: [Math.min(AT.z, to.z), Math.max(AT.z, to.z)] as const,
    angle: [Math.min(AT.angle, to.angle), Math.max(AT.angle, to.angle)] as const,
    walls: [],
  };
  const letters = lettersOf([{ label: 'words', line: shapeLine(font, words, 'tabular') }]);
  return { surface, to, zone, letters };
}

/** Every point that draws the words, on one sheet. */
function inkOf(surface: Surface, letters: readonly Letter[], size: number, mark: TextDirection, at: Place) {
  return letters.flatMap(({ glyph, places }) =>
    places.flatMap((place) => {
      const { turn, x, y, rotation } = placeGlyph(surface, place, size, mark, at);
      return glyph.path.flatMap((command) => {
        const drawn = Float64Array.from(command.slice(1) as number[], (value) => value * size);
        const laid = placeOnSheet(drawn, rotation, x, y);
        return Array.from({ length: laid.length / 2 }, (_, i) =>
          surface.rotate(laid[2 * i]!, laid[2 * i + 1]!, turn),
        );
      });
    }),
  );
}

type Points = ReturnType<typeof inkOf>;
const farthest = (from: Points, to: Points): number =>
  from.reduce((most, [x, y], i) => Math.max(most, Math.hypot(x - to[i]![0], y - to[i]![1])), 0);

/** How far ink moves beside what the middle of the mark moves, both mm. */
function moved(move: Move) {
  const { size, mark } = move;
  const { surface, to, zone, letters } = setUp(move);
  const ink = farthest(inkOf(surface, letters, size, mark, AT), inkOf(surface, letters, size, mark, to));
  const radius = Math.max(surface.radius(AT.z), surface.radius(to.z));
  const middle = Math.hypot(surface.slant(to.z) - surface.slant(AT.z), toRad(move.da) * radius);
  return { ink, middle, pace: paceOfMark({ surface, zone, mark }, inkReach(letters) * size) };
}

test('no ink moves faster than the pace of its mark', () => {
  fc.assert(
    fc.property(moves, (move) => {
      const { ink, middle, pace } = moved(move);
      expect(ink).toBeLessThanOrEqual(pace * middle + 1e-9);
    }),
    { numRuns: 300 },
  );
});

test('ink far from the apex of a cone moves faster than the middle of its mark', () => {
  const mark = { baseline: 'lengthwise', reading: 'up' } as const;
  const { ink, middle, pace } = moved({
    ...{ radius: 7, slope: 0.2, size: 2, words: 'NINE LIGHTS', mark, dz: 0, da: 5 },
  });
  expect(ink).toBeGreaterThan(1.1 * middle);
  expect(pace).toBeGreaterThan(1.1);
});

test('no ink moves farther than its reach allows where the mark shrinks', () => {
  fc.assert(
    fc.property(moves, (move) => {
      const { size, mark } = move;
      const { surface, zone, letters } = setUp({ ...move, dz: 0, da: 0 });
      const smaller = 0.98 * size;
      const ink = farthest(
        inkOf(surface, letters, size, mark, AT),
        inkOf(surface, letters, smaller, mark, AT),
      );
      const reach = inkReach(letters);
      const pace = paceOfShrinking({ surface, zone, mark }, reach * size);
      expect(ink).toBeLessThanOrEqual(reach * pace * (size - smaller) + 1e-9);
    }),
    { numRuns: 300 },
  );
});
