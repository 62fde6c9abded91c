import { boundsOfCurves } from '../../geometry/curve-bounds.js';
import type { Path } from '../../geometry/path.js';
import type { PathCommand } from '../../geometry/path-command.js';
import type { Polygons } from '../../geometry/polygons.js';
import { type Edges, edgesOf, splitLine } from '../../geometry/split.js';
import {
  type Area,
  Booleans,
  closeSubpaths,
  curvesIn,
  type ResultForm,
  type Rule,
  ringPath,
} from '../boolean.js';
import { Budget } from '../budget.js';
import { isConvex } from '../convex.js';
import { IntersectionBudget } from '../intersection-budget.js';
import type { Clip, DrawnPath, DrawnStroke } from './drawing.js';
import { determinant, transformPath } from './matrix.js';
import { strokeLines, strokeOutline } from './strokes.js';

/** How finely outlines of strokes and clipped lines follow their curves, mm. */
const TOLERANCE_MM = 0.0005;
/** How finely curves are flattened to find crossings, mm. */
const LOOKED_AT_MM = 0.01;
/** Dashes of a whole drawing. */
const MOST_DASHES = 50_000;

/** Points of flattened curves and of the round ends and corners of strokes. */
const MOST_POINTS = 3_000_000;

/** Curves of areas that cross: beyond these, areas that cross are made polygons. */
const MOST_CURVES = 600;

/** Lines and curves of areas that clips cut, and of the clips each time. */
const MOST_CUT = 30_000;

/** Finds the areas and lines of one drawing, path by path. Throws `LimitExceeded` beyond the budget of a drawing. */
export class DrawingResolver {
  readonly intersections = new IntersectionBudget();
  readonly dashes = new Budget('artwork.too-many-dashes', MOST_DASHES);
  readonly cut = new Budget('artwork.too-many-cut-segments', MOST_CUT);
  readonly points = new Budget('artwork.too-many-points', MOST_POINTS);
  readonly #booleans = new Booleans(this.points);
  readonly #clips = new Map<Clip, ClipArea>();
  #curves = 0;

  /** What a path fills. */
  areaOfFill({ path, clips }: DrawnPath, rule: Rule): Area {
    return this.#clipArea(this.simplifyArea({ path: closeSubpaths(path), rule }), clips);
  }

  /** What a stroke covers. */
  areaOfStroke({ clips }: DrawnPath, stroke: DrawnStroke): Area {
    const lines = this.#lines(stroke);
    const scale = Math.sqrt(Math.abs(determinant(stroke.map)));
    const coarse = strokeLines({ ...stroke, dashes: [] }, LOOKED_AT_MM, this.points).map((l) => l.points);
    if (scale > 0) this.intersections.takeStrokes(coarse, stroke.width / 2);
    const path = strokeOutline(stroke, lines, TOLERANCE_MM, this.points);
    return this.#clipArea(this.#booleans.resolve({ path, rule: 'nonzero' }), clips);
  }

  /** The line a stroke follows: as drawn where nothing breaks it, else in flat pieces. */
  lineOfStroke({ path, clips }: DrawnPath, stroke: DrawnStroke): readonly PathCommand[] {
    const box = boundsOfCurves(path);
    const cutting = clips.map((c) => this.#clip(c)).filter((c) => !holds(c, box));
    if (stroke.dashes.length === 0 && cutting.length === 0) return path;
    return this.#lines(stroke).flatMap(({ points, closed }) => {
      const piece = transformPath(ringPath(points).slice(0, closed ? undefined : -1), stroke.map);
      return cutting.length === 0 ? piece : this.#linesWithin(piece, cutting);
    });
  }

  /** An area as simple outlines. */
  simplifyArea(area: Area): Area {
    if (!isConvex(area.path))
      this.intersections.takeRings(this.#booleans.flatten(area.path, LOOKED_AT_MM).map((p) => p.points));
    return this.#booleans.asSimple(area) ?? this.#booleans.resolve(area, this.#formOf(area));
  }

  #formOf(...areas: readonly Area[]): ResultForm {
    this.#curves += curvesIn(...areas);
    return this.#curves > MOST_CURVES ? 'polygons' : 'curves';
  }

  #lines(stroke: DrawnStroke): Path[] {
    const lines = strokeLines(stroke, TOLERANCE_MM, this.points);
    if (stroke.dashes.length > 0) this.dashes.take(lines.length);
    return lines;
  }

  #clipArea(area: Area, clips: readonly Clip[]): Area {
    let left = area;
    for (const one of clips) {
      if (left.path.length === 0) break;
      const clip = this.#clip(one);
      if (holds(clip, boundsOfCurves(left.path))) continue;
      this.cut.take(left.path.length + clip.area.path.length);
      left = this.#booleans.intersect(left, clip.area, this.#formOf(left, clip.area));
    }
    return left;
  }

  #clip(clip: Clip): ClipArea {
    const known = this.#clips.get(clip);
    if (known) return known;
    const area = clip.reduce<Area>(
      (sum, one) => {
        const area = this.simplifyArea({ ...one, path: closeSubpaths(one.path) });
        return sum.path.length === 0 ? area : this.#booleans.unite(sum, area, this.#formOf(sum, area));
      },
      { path: [], rule: 'nonzero' },
    );
    const made: ClipArea = { area, box: uprightBox(clip) };
    this.#clips.set(clip, made);
    return made;
  }

  /** The stretches of a flat line that lie within every clip. */
  #linesWithin(path: readonly PathCommand[], clips: readonly ClipArea[]): PathCommand[] {
    let lines = this.#booleans.flatten(path, TOLERANCE_MM);
    for (const clip of clips) {
      clip.rings ??= this.#booleans.polygons(clip.area, TOLERANCE_MM);
      const edges = this.#countedEdges(clip.rings);
      lines = lines.flatMap((line) => {
        const parts = splitLine(line, [edges]);
        if (parts.every((p) => p.inside)) return [line];
        return parts
          .filter((p) => p.inside)
          .map((p) => ({ points: Float64Array.from(p.points), closed: false }));
      });
    }
    return lines.flatMap(({ points, closed }) => ringPath(points).slice(0, closed ? undefined : -1));
  }

  /** Edges of which each use takes as many comparisons as they have sides. */
  #countedEdges(rings: Polygons): Edges {
    const edges = edgesOf(rings);
    const sides = rings.reduce((sum, ring) => sum + ring.length / 2, 0);
    const { pairs } = this.intersections;
    return {
      crossings: (...segment) => {
        pairs.take(sides);
        return edges.crossings(...segment);
      },
      holds: (x, y) => {
        pairs.take(sides);
        return edges.holds(x, y);
      },
    };
  }
}

type Box = readonly [left: number, bottom: number, right: number, top: number];

interface ClipArea {
  readonly area: Area;
  /** Its box, where it is one upright box. */
  readonly box: Box | undefined;
  /** Its rings, flat, once they are needed. */
  rings?: Polygons;
}

/** Whether a clip holds a box whole: by far the commonest, and then nothing is cut. */
const holds = ({ box: clip }: ClipArea, box: Box): boolean =>
  clip !== undefined && box[0] >= clip[0] && box[1] >= clip[1] && box[2] <= clip[2] && box[3] <= clip[3];

function uprightBox([only, ...more]: Clip): Box | undefined {
  const path = only?.path ?? [];
  if (more.length > 0 || path.length !== 5 || path.some((s) => s[0] === 'C' || s[0] === 'Q'))
    return undefined;
  const box = boundsOfCurves(path);
  const corners = path.slice(0, 4) as readonly (readonly ['M' | 'L', number, number])[];
  const upright = corners.every(
    ([, x, y]) => (x === box[0] || x === box[2]) && (y === box[1] || y === box[3]),
  );
  return upright ? box : undefined;
}
