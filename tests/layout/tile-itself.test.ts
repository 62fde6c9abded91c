import { expect, test } from 'vitest';
import { motifSetting, readArtwork } from '../../src/artwork/artwork.js';
import type { TiledMark } from '../../src/layout/mark-to-fit.js';
import { tilePattern } from '../../src/layout/tile-pattern.js';
import { surfaceOf } from '../../src/surface/part-surfaces.js';
import { barrel } from './requests.js';

const CUT = 0.1;

/** A tiled mark in the middle of a bare barrel. */
function tiled(
  mark: object,
  motif?: TiledMark['motif'],
  ends: readonly [number, number] = [12, 12],
): TiledMark {
  const part = barrel(...ends);
  const common = {
    id: 'm',
    surface: 's',
    place: { z: 20, angle: 0 },
    meets: 'refuse',
    apart: 0.3,
    order: [],
  };
  return {
    ...{
      kind: 'tiled',
      designId: 'd',
      partId: 'p',
      part,
      surface: surfaceOf(part, 's')!,
      obstacles: [],
      proud: { level: 0, tilted: 0 },
    },
    ...{ spread: CUT, cutWidth: CUT, cut: { width: CUT, plain: CUT, floor: 0.1, wider: 0, narrower: 0 } },
    ...{ ...(motif ? { motif } : {}) },
    mark: { ...common, ...mark } as unknown as TiledMark['mark'],
  };
}

const rosettes = (radius: number, more: object = {}) => ({
  kind: 'pattern',
  pattern: { form: 'rosettes', count: 1, rows: 1, rise: 1, step: 0, radius, lobes: 8, depth: 0, curves: 1 },
  ...more,
});

const bar = (width: number): NonNullable<TiledMark['motif']> => {
  const svg = `<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0H${width}V1H0Z"/></svg>`;
  const read = readArtwork('bar', new TextEncoder().encode(svg), 'bar.svg');
  if (!read.ok) throw new Error('The drawing cannot be read.');
  return motifSetting(read.artwork, 'line')!;
};

const drawing = (repeat: object) => ({
  ...{ kind: 'motif', artwork: 'bar', size: 1, baseline: 'ring', reading: 'up', way: 'trace' },
  repeat: { count: 1, rows: 1, rise: 0, step: 0, mirror: 'none', ...repeat },
});

const codes = (of: TiledMark, others: Parameters<typeof tilePattern>[1] = []): string[] =>
  tilePattern(of, others).problems.map((p) => p.code);

const RING = 12 * Math.PI;

test('a rosette wider than the ring less its cut is refused', () => {
  // On a cylinder the sheet keeps every width, so the widest that fits is known.
  const most = (RING - CUT) / 2;
  expect(codes(tiled(rosettes(most - 0.01)))).toEqual([]);
  expect(codes(tiled(rosettes(most + 0.01)))).toEqual(['layout.meets-itself']);
  const [problem] = tilePattern(tiled(rosettes(25)), []).problems;
  expect(problem!.values.over).toBeCloseTo(50 - RING + CUT, 2);
});

test('on a cone the angle that it reaches over decides', () => {
  // 37.2 mm across on a ring of 37.7 mm: seen from the apex its widest lies where the ring is shorter.
  expect(codes(tiled(rosettes(18.6), undefined, [12, 12]))).toEqual([]);
  expect(codes(tiled(rosettes(17.9), undefined, [16, 8]))).toEqual([]);
  expect(codes(tiled(rosettes(18.6), undefined, [16, 8]))).toEqual(['layout.meets-itself']);
});

test('a drawing wider than the ring is refused, unless it is drawn out to fill it', () => {
  expect(codes(tiled(drawing({}), bar(RING - 0.2)))).toEqual([]);
  expect(codes(tiled(drawing({}), bar(RING)))).toEqual(['layout.meets-itself']);
  expect(codes(tiled(drawing({ form: 'stretched' }), bar(RING + 9)))).toEqual([]);
});

test('neighbours may overlap: that is how grounds are made', () => {
  const many = rosettes(6);
  expect(codes(tiled({ ...many, pattern: { ...many.pattern, count: 12 } }))).toEqual([]);
});

test('what is left of it counts, where it is trimmed, and nothing where it is left out', () => {
  const of = (meets: string) => tiled(rosettes(25, { meets }));
  const name = { phrase: 'layout.mark', values: { mark: 'other' } };
  // The middle of the rosette is cut away at a belt, and what is left above and below still goes round.
  const belt = [{ shape: 'ring' as const, name, from: 19, to: 21 }];
  expect(codes(of('trim'), belt)).toEqual(['layout.meets-itself']);
  const half = {
    shape: 'patch' as const,
    name,
    turn: 0,
    polygons: [Float64Array.of(5, 0, 40, 0, 40, 40, 5, 40)],
  };
  expect(tilePattern(of('trim'), [half]).instances).toHaveLength(1);
  expect(tilePattern(of('drop'), [half])).toMatchObject({ dropped: 1, problems: [] });
});
