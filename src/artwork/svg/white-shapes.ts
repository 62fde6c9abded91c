import { boundsOfCurves } from '../../geometry/curve-bounds.js';
import { area, intersection, type Polygons } from '../../geometry/polygons.js';
import type { Problem } from '../../problem.js';
import { Booleans } from '../boolean.js';
import { Budget, LimitExceeded } from '../budget.js';
import { problem } from '../messages.js';
import type { Drawing, DrawnPath } from './drawing.js';
import { strokeLines, strokeOutline } from './strokes.js';

/** How finely shapes are compared, mm. */
const TOLERANCE_MM = 0.02;
/** Overlaps smaller than this are no overlaps, mm2. */
const LEAST_MM2 = 1e-4;
/** Beyond these, boxes that overlap count as shapes that do. */
const MOST_POINTS = 200_000;
const MOST_COMPARED = 500;
const MOST_BOXES = 2_000_000;

/**
 * Remarks on what is painted white: it hides nothing of what lies under it, as it would on paper, but is cut like any
 * other area. Each names one shape that overlaps it, where there is one: that under it first.
 */
export function whiteShapes({ paths }: Drawing): Problem[] {
  if (paths.every((p) => p.white.length === 0)) return [];
  const compare = new Comparison(paths);
  return paths.flatMap((path, k) =>
    path.white.map((part): Problem => {
      const other = compare.findOverlapping(k, part);
      if (other === undefined) return problem('artwork.paper-colour', path.where, { part });
      const { where } = paths[other]!;
      return other < k
        ? problem('artwork.white-over-ink', path.where, { part, below: where })
        : problem('artwork.white-under-ink', path.where, { part, above: where });
    }),
  );
}

type Part = 'fill' | 'stroke';

class Comparison {
  readonly #boxes: readonly (readonly [number, number, number, number])[];
  readonly #points = new Budget('artwork.too-many-points', MOST_POINTS);
  readonly #booleans = new Booleans(this.#points);
  readonly #polygons = new Map<string, Polygons>();
  #compared = 0;
  #pairs = 0;

  constructor(readonly paths: readonly DrawnPath[]) {
    this.#boxes = paths.map(({ path, stroke }) => {
      const [left, bottom, right, top] = boundsOfCurves(path);
      const by = stroke ? (stroke.width * Math.hypot(...stroke.map.slice(0, 4))) / 2 : 0;
      return [left - by, bottom - by, right + by, top + by];
    });
  }

  /** The nearest shape under a white one that has ink and overlaps it; else the first over it. */
  findOverlapping(k: number, part: Part): number | undefined {
    for (let i = k - 1; i >= 0; i--) if (this.#meet(k, part, i)) return i;
    for (let i = k + 1; i < this.paths.length; i++) if (this.#meet(k, part, i)) return i;
    return undefined;
  }

  #meet(k: number, part: Part, other: number): boolean {
    const { fill, stroke, white } = this.paths[other]!;
    const inks: Part[] = [];
    if (fill !== 'none' && !white.includes('fill')) inks.push('fill');
    if (stroke && !white.includes('stroke')) inks.push('stroke');
    if (inks.length === 0 || ++this.#pairs > MOST_BOXES) return false;
    const [a, b] = [this.#boxes[k]!, this.#boxes[other]!];
    if (a[0] >= b[2] || b[0] >= a[2] || a[1] >= b[3] || b[1] >= a[3]) return false;
    return inks.some((ink) => this.#overlap(k, part, other, ink));
  }

  #overlap(k: number, part: Part, other: number, ink: Part): boolean {
    if (++this.#compared > MOST_COMPARED) return true;
    try {
      return area(intersection(this.#polygonsOf(k, part), this.#polygonsOf(other, ink))) > LEAST_MM2;
    } catch (error) {
      if (error instanceof LimitExceeded) return true;
      throw error;
    }
  }

  #polygonsOf(k: number, part: Part): Polygons {
    const key = `${k} ${part}`;
    const known = this.#polygons.get(key);
    if (known) return known;
    const { path, fill, stroke } = this.paths[k]!;
    const rule = part === 'fill' && fill === 'evenodd' ? 'evenodd' : 'nonzero';
    const area = part === 'fill' || !stroke ? path : this.#strokeOf(stroke);
    const made = this.#booleans.polygons({ path: area, rule }, TOLERANCE_MM);
    this.#polygons.set(key, made);
    return made;
  }

  #strokeOf(stroke: NonNullable<DrawnPath['stroke']>) {
    const lines = strokeLines(stroke, TOLERANCE_MM, this.#points);
    return strokeOutline(stroke, lines, TOLERANCE_MM, this.#points);
  }
}
