import { expect, test } from 'vitest';
import { markMinFeatures } from '../../src/cutting/min-feature-check.js';
import { MinFeatureWork } from '../../src/cutting/min-feature-work.js';
import type { Cutter } from '../../src/documents/schema/cutter.js';
import type { PathCommand } from '../../src/geometry/path-command.js';
import { Refusal } from '../../src/problem.js';

/** A stroke in a spiral of five turns, 1 across. */
const spiral: PathCommand[] = Array.from({ length: 2000 }, (_, i) => {
  const [r, a] = [i / 4000, (Math.PI * i) / 200];
  return [i === 0 ? 'M' : 'L', r * Math.cos(a), r * Math.sin(a)];
});
const glyph = { key: 'spiral', path: spiral, advance: 1, stroked: true as const };
const line = { glyphs: [{ glyph, character: 's', x: 0 }], width: 1, missing: [] };
const check = (width: number, size: number, land: number, most: number) =>
  markMinFeatures(
    {
      mark: { kind: 'inscription', way: 'trace', depth: 0.05, land },
      font: { kind: 'outline' },
      cutWidth: width,
    },
    { name: 'point', shape: 'drag', width } as Cutter,
    [{ label: 's', line, size }],
    new MinFeatureWork(most),
  );

test('strokes of a traced letter are not searched where no finding could count', () => {
  expect(check(0.1, 9, 0, 0)).toEqual([]);
  expect(check(0.1, 9, 0, Number.POSITIVE_INFINITY)).toEqual([]);
  // Where land is asked for, or the cut is wide for the letter, it could.
  expect(() => check(0.1, 9, 0.05, 0)).toThrow(Refusal);
  expect(() => check(0.15, 1, 0, 0)).toThrow(Refusal);
  expect(check(0.15, 1, 0, Number.POSITIVE_INFINITY)).not.toEqual([]);
});

test('a refusal names the points of the drawing, not those of the step that was too much', () => {
  for (const most of [0, 100_000])
    try {
      check(0.15, 1, 0, most);
      expect.unreachable();
    } catch (error) {
      expect((error as Refusal).problems).toMatchObject([{ values: { points: 2000, most } }]);
    }
});
