import { boundsOf } from '../geometry/bounds.js';
import { flatten } from '../geometry/flatten.js';
import type { Path } from '../geometry/path.js';
import { grow, type Polygons } from '../geometry/polygons.js';
import type { ShapedLine } from '../lettering/shaped-line.js';
import type { Obstacle } from '../surface/keepouts.js';
import type { Place } from '../surface/surface.js';
import { FLATTEN_TOLERANCE_MM } from '../units.js';
import { lettersOf } from './clearance-evaluator.js';
import { placeGlyph, placeOnSheet } from './glyph-placement.js';
import type { LineMark, TiledMark } from './mark-to-fit.js';
import { markLimits } from './phrases.js';
import type { PlacedInstance } from './tile-pattern.js';

/** What instances of a tiled mark take up, as obstacles to later marks: the boxes of areas and lines, grown by the cut. */
export function instanceObstacles(of: TiledMark, instances: readonly PlacedInstance[]): Obstacle[] {
  const boxObstacles = (turn: number, paths: readonly Path[], by: number): Obstacle[] => {
    if (paths.length === 0) return [];
    const polygons = boxGrown(
      paths.flatMap((p) => [...p.points]),
      by,
    );
    return [{ shape: 'patch', name: markName(of.mark), turn, polygons }];
  };
  return instances.flatMap(({ turn, areas, lines }) => [
    ...boxObstacles(turn, areas, of.spread / 2),
    ...boxObstacles(turn, lines, of.cutWidth / 2),
  ]);
}

/** What lines of letters take up at a size, mm, and place: each letter's box, grown by the cut. */
export function letterObstacles(
  { mark, surface, spread }: LineMark,
  lines: Iterable<ShapedLine>,
  { size, at }: { readonly size: number; readonly at: Place },
): Obstacle[] {
  return lettersOf([...lines].map((line) => ({ label: '', line }))).flatMap(({ glyph, places }) => {
    const points = flatten(glyph.path, size, FLATTEN_TOLERANCE_MM).flatMap((p) => [...p.points]);
    if (points.length === 0) return [];
    const flat = Float64Array.from(points);
    // On a ring a letter's box is the same wherever it stands, but for the turn.
    const grown = new Map<string, Polygons>();
    return places.map((one): Obstacle => {
      const { turn, rotation, x, y } = placeGlyph(surface, one, size, mark, at);
      const key = `${x} ${y} ${rotation}`;
      let polygons = grown.get(key);
      if (!polygons) {
        polygons = boxGrown(placeOnSheet(flat, rotation, x, y), spread / 2);
        grown.set(key, polygons);
      }
      return { shape: 'patch', name: markName(mark), turn, polygons };
    });
  });
}

const markName = ({ id }: { readonly id: string }) => markLimits.phrase('layout.mark', { mark: id });

function boxGrown(points: ArrayLike<number>, by: number): Polygons {
  const [x0, y0, x1, y1] = boundsOf(Float64Array.from(points));
  return grow([Float64Array.of(x0, y0, x1, y0, x1, y1, x0, y1)], by);
}
