import { boundsOfCurves } from '../../geometry/curve-bounds.js';
import { flatten } from '../../geometry/flatten.js';
import type { Path } from '../../geometry/path.js';
import type { PathCommand } from '../../geometry/path-command.js';
import type { Polygons } from '../../geometry/polygons.js';
import { edgesOf, splitLine } from '../../geometry/split.js';
import { refuse } from '../../problem.js';
import {
  type Area,
  closedUp,
  curvesIn,
  intersect,
  type Kept,
  polygonsOf,
  type Rule,
  resolved,
  ringPath,
  simple,
  unite,
} from '../boolean.js';
import { isConvex } from '../convex.js';
import { Tangle } from '../tangle.js';
import type { Clip, DrawnPath, DrawnStroke } from './drawing.js';
import { determinant, mapped } from './matrix.js';
import { strokeLines, strokeOutline } from './strokes.js';

/** How finely outlines of strokes and clipped lines follow their curves, mm. */
const TOLERANCE_MM = 0.0005;
/** How finely crossings are looked for, mm. */
const LOOKED_AT_MM = 0.01;
/** Dashes of a whole drawing. */
const MOST_DASHES = 50_000;

/** Curves of areas that cross: beyond these, areas that cross are made polygons. */
const MOST_CURVES = 600;

/** Lines and curves of areas that clips cut, and of the clips each time. */
const MOST_CUT = 30_000;

/** The areas and lines of one drawing, one after the other; refused once they cross more than any drawing's do. */
export class Work {
  readonly #tangle = new Tangle();
  readonly #clips = new Map<Clip, ClipArea>();
  #dashes = 0;
  #curves = 0;
  #cut = 0;

  /** What a path fills. */
  filled({ path, clips, where }: DrawnPath, rule: Rule): Area {
    return this.#clipped(this.simple({ path: closedUp(path), rule }, where), clips, where);
  }

  /** What a stroke covers. */
  stroked({ clips, where }: DrawnPath, stroke: DrawnStroke): Area {
    const lines = this.#lines(stroke, where);
    const scale = Math.sqrt(Math.abs(determinant(stroke.map)));
    const coarse = strokeLines({ ...stroke, dashes: [] }, LOOKED_AT_MM).map((l) => l.points);
    // A line that covers itself over and over is looked for as coarsely as crossings are.
    if (scale > 0 && this.#tangle.strokes(coarse, stroke.width / 2)) throw tangled(where);
    const path = strokeOutline(stroke, lines, TOLERANCE_MM);
    return this.#clipped(resolved({ path, rule: 'nonzero' }), clips, where);
  }

  /** The line a stroke follows: as drawn where nothing breaks it, else in flat pieces. */
  followed({ path, clips, where }: DrawnPath, stroke: DrawnStroke): readonly PathCommand[] {
    const box = boundsOfCurves(path);
    const cutting = clips.map((c) => this.#clip(c, where)).filter((c) => !holds(c, box));
    if (stroke.dashes.length === 0 && cutting.length === 0) return path;
    return this.#lines(stroke, where).flatMap(({ points, closed }) => {
      const piece = mapped(ringPath(points).slice(0, closed ? undefined : -1), stroke.map);
      return cutting.length === 0 ? piece : this.#within(piece, cutting, where);
    });
  }

  /** An area as simple outlines. */
  simple(area: Area, where: string): Area {
    const rings = () => flatten(area.path, 1, LOOKED_AT_MM).map((p) => p.points);
    if (!isConvex(area.path) && this.#tangle.rings(rings())) throw tangled(where);
    return simple(area) ?? resolved(area, this.#kept(area));
  }

  /** Counts pairs that are to be looked at. */
  look(pairs: number, where: string): void {
    if (this.#tangle.pairs(pairs)) throw tangled(where);
  }

  #kept(...areas: readonly Area[]): Kept {
    this.#curves += curvesIn(...areas);
    return this.#curves > MOST_CURVES ? 'polygons' : 'curves';
  }

  #lines(stroke: DrawnStroke, where: string): Path[] {
    const lines = strokeLines(stroke, TOLERANCE_MM);
    this.#dashes += stroke.dashes.length > 0 ? lines.length : 0;
    if (this.#dashes > MOST_DASHES)
      throw refuse(1, where, 'The drawing has more dashes than any cutter follows.', 'Draw whole lines.');
    return lines;
  }

  #clipped(area: Area, clips: readonly Clip[], where: string): Area {
    let left = area;
    for (const one of clips) {
      if (left.path.length === 0) break;
      const clip = this.#clip(one, where);
      if (holds(clip, boundsOfCurves(left.path))) continue;
      this.#cut += left.path.length + clip.area.path.length;
      if (this.#cut > MOST_CUT)
        throw refuse(1, where, 'Clips and edges cut through too many shapes.', 'Cut them in the drawing.');
      left = intersect(left, clip.area, this.#kept(left, clip.area));
    }
    return left;
  }

  #clip(clip: Clip, where: string): ClipArea {
    const known = this.#clips.get(clip);
    if (known) return known;
    const area = clip.reduce<Area>(
      (sum, one) => {
        const area = this.simple({ ...one, path: closedUp(one.path) }, where);
        return sum.path.length === 0 ? area : unite(sum, area, this.#kept(sum, area));
      },
      { path: [], rule: 'nonzero' },
    );
    const made: ClipArea = { area, box: uprightBox(clip) };
    this.#clips.set(clip, made);
    return made;
  }

  /** The stretches of a flat line that lie within every clip. */
  #within(path: readonly PathCommand[], clips: readonly ClipArea[], where: string): PathCommand[] {
    let lines = flatten(path, 1, TOLERANCE_MM);
    for (const clip of clips) {
      clip.rings ??= polygonsOf(clip.area, TOLERANCE_MM);
      const { rings } = clip;
      const edges = edgesOf(rings);
      const sides = rings.reduce((sum, ring) => sum + ring.length / 2, 0);
      lines = lines.flatMap((line) => {
        this.look((sides * line.points.length) / 2, where);
        const parts = splitLine(line, [edges]);
        if (parts.every((p) => p.inside)) return [line];
        return parts
          .filter((p) => p.inside)
          .map((p) => ({ points: Float64Array.from(p.points), closed: false }));
      });
    }
    return lines.flatMap(({ points, closed }) => ringPath(points).slice(0, closed ? undefined : -1));
  }
}

const tangled = (where: string) =>
  refuse(1, where, 'It crosses itself too often to be an area.', 'Draw its edge alone.');

type Box = readonly [left: number, bottom: number, right: number, top: number];

interface ClipArea {
  readonly area: Area;
  /** Its box, where it is one upright box. */
  readonly box: Box | undefined;
  /** Its rings, flat, once they are asked for. */
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
