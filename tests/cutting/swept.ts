/**
 * What a cone cuts, by brute force and sharing nothing with the code under test. At depth d a cone with a flat tip t
 * wide and included angle a takes out a disc of radius t / 2 + d tan(a / 2) at the surface (plane trigonometry);
 * between two points of a line it takes out all discs between the two, place and radius changing evenly.
 */
export type Ring = Float64Array;

export interface Line {
  readonly points: Float64Array;
  readonly closed: boolean;
  readonly depths?: Float64Array;
}

/** One straight stretch of a line: from x0, y0 and radius r0 to x1, y1 and r1, mm. */
export interface Stretch {
  readonly x0: number;
  readonly y0: number;
  readonly r0: number;
  readonly x1: number;
  readonly y1: number;
  readonly r1: number;
}

export function stretches(lines: readonly Line[], cutter: { tip: number; angle: number }): Stretch[] {
  const slope = Math.tan((cutter.angle / 2) * (Math.PI / 180));
  return lines.flatMap(({ points, closed, depths }) => {
    const n = points.length / 2;
    const radius = (k: number) => cutter.tip / 2 + depths![k]! * slope;
    return Array.from({ length: closed ? n : n - 1 }, (_, k) => {
      const m = (k + 1) % n;
      return {
        x0: points[2 * k]!,
        y0: points[2 * k + 1]!,
        r0: radius(k),
        x1: points[2 * m]!,
        y1: points[2 * m + 1]!,
        r1: radius(m),
      };
    });
  });
}

/** How far a place is from the nearest disc of a stretch, mm; below nought within it. */
export function gap({ x0, y0, r0, x1, y1, r1 }: Stretch, x: number, y: number): number {
  const length = Math.hypot(x1 - x0, y1 - y0);
  const ends = Math.min(Math.hypot(x - x0, y - y0) - r0, Math.hypot(x - x1, y - y1) - r1);
  const k = (r1 - r0) / length;
  // a disc that holds all the others, or a stretch of no length
  if (!(Math.abs(k) < 1)) return ends;
  const [ux, uy] = [(x1 - x0) / length, (y1 - y0) / length];
  const along = (x - x0) * ux + (y - y0) * uy;
  const aside = Math.abs((x - x0) * uy - (y - y0) * ux);
  // d/du of hypot(along - u, aside) - r0 - k u is nought here, and the function is convex
  const u = Math.min(length, Math.max(0, along + (k * aside) / Math.sqrt(1 - k * k)));
  return Math.hypot(along - u, aside) - r0 - k * u;
}

/** Square cells of a letter, and which of them the cutter takes out. */
export interface Counted {
  /** mm2 of the letter; of it, what is cut; and what is cut beside it. */
  readonly letter: number;
  readonly cut: number;
  readonly beside: number;
}

/**
 * Counted by the middles of cells of a grid `cell` mm wide. The grid stands askew: letters have long edges along x and
 * y, beside which whole rows of cells would stand or fall together.
 */
export function counted(upright: readonly Ring[], lying: readonly Stretch[], cell: number): Counted {
  const rings = upright.map((ring) =>
    ring.map((_, i) => askew(ring[i - (i % 2)]!, ring[i + 1 - (i % 2)]!)[i % 2]!),
  );
  const all = lying.map((s) => {
    const [[x0, y0], [x1, y1]] = [askew(s.x0, s.y0), askew(s.x1, s.y1)];
    return { ...s, x0, y0, x1, y1 };
  });
  const [x0, y0, x1, y1] = bounds(rings);
  const [left, low] = [x0 - 0.1, y0 - 0.1];
  const [w, h] = [Math.ceil((x1 - x0 + 0.2) / cell), Math.ceil((y1 - y0 + 0.2) / cell)];
  const taken = new Uint8Array(w * h);
  const index = (v: number, from: number, most: number) =>
    Math.min(most - 1, Math.max(0, Math.floor((v - from) / cell)));
  for (const s of all) {
    const i0 = index(Math.min(s.x0 - s.r0, s.x1 - s.r1), left, w);
    const i1 = index(Math.max(s.x0 + s.r0, s.x1 + s.r1), left, w);
    const j0 = index(Math.min(s.y0 - s.r0, s.y1 - s.r1), low, h);
    const j1 = index(Math.max(s.y0 + s.r0, s.y1 + s.r1), low, h);
    for (let j = j0; j <= j1; j++)
      for (let i = i0; i <= i1; i++) {
        const k = j * w + i;
        if (!taken[k] && gap(s, left + (i + 0.5) * cell, low + (j + 0.5) * cell) <= 0) taken[k] = 1;
      }
  }
  const inside = filled(rings, { left, low, w, h, cell });
  const sums = [0, 0, 0, 0];
  for (let k = 0; k < taken.length; k++) sums[2 * inside[k]! + taken[k]!]!++;
  const [, beside, left_, cut] = sums.map((n) => n * cell * cell) as [number, number, number, number];
  return { letter: left_ + cut, cut, beside };
}

const ASKEW_RAD = 0.4;

const askew = (x: number, y: number): [number, number] => [
  Math.cos(ASKEW_RAD) * x - Math.sin(ASKEW_RAD) * y,
  Math.sin(ASKEW_RAD) * x + Math.cos(ASKEW_RAD) * y,
];

interface Grid {
  readonly left: number;
  readonly low: number;
  readonly w: number;
  readonly h: number;
  readonly cell: number;
}

/** 1 where the rings wind round the middle of a cell (non-zero fill, as fonts and SVG have it). */
function filled(rings: readonly Ring[], { left, low, w, h, cell }: Grid): Uint8Array {
  const out = new Uint8Array(w * h);
  for (let j = 0; j < h; j++) {
    const row = crossings(rings, low + (j + 0.5) * cell);
    let winding = 0;
    let next = 0;
    for (let i = 0; i < w; i++) {
      const x = left + (i + 0.5) * cell;
      while (next < row.length && row[next]![0] < x) winding += row[next++]![1];
      if (winding !== 0) out[j * w + i] = 1;
    }
  }
  return out;
}

/** Where a level line crosses the rings, from left to right, and which way. */
function crossings(rings: readonly Ring[], y: number): [x: number, way: number][] {
  const out: [number, number][] = [];
  for (const ring of rings)
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
      const [ay, by] = [ring[j + 1]!, ring[i + 1]!];
      if (ay > y !== by > y)
        out.push([ring[j]! + ((y - ay) / (by - ay)) * (ring[i]! - ring[j]!), by > ay ? 1 : -1]);
    }
  return out.sort((a, b) => a[0] - b[0]);
}

/** Distance to the edge of the area, mm; below nought outside it. */
export function room(rings: readonly Ring[], x: number, y: number): number {
  let least = Number.POSITIVE_INFINITY;
  let winding = 0;
  for (const ring of rings)
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
      const [ax, ay, bx, by] = [ring[j]!, ring[j + 1]!, ring[i]!, ring[i + 1]!];
      const [vx, vy] = [bx - ax, by - ay];
      const l = vx * vx + vy * vy;
      const t = l === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * vx + (y - ay) * vy) / l));
      least = Math.min(least, (x - ax - t * vx) ** 2 + (y - ay - t * vy) ** 2);
      if (ay > y !== by > y && ax + ((y - ay) / vy) * vx < x) winding += by > ay ? 1 : -1;
    }
  return winding === 0 ? -Math.sqrt(least) : Math.sqrt(least);
}

/** How far the discs of stretches reach outside the area at most, mm, looked at every `step` mm. */
export function overcut(rings: readonly Ring[], all: readonly Stretch[], step: number): number {
  let worst = Number.NEGATIVE_INFINITY;
  for (const { x0, y0, r0, x1, y1, r1 } of all) {
    const n = Math.max(1, Math.ceil(Math.hypot(x1 - x0, y1 - y0) / step));
    for (let k = 0; k <= n; k++) {
      const u = k / n;
      const [x, y, r] = [x0 + u * (x1 - x0), y0 + u * (y1 - y0), r0 + u * (r1 - r0)];
      worst = Math.max(worst, r - room(rings, x, y));
    }
  }
  return worst;
}

export function bounds(rings: readonly Ring[]): [number, number, number, number] {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const ring of rings)
    for (let i = 0; i < ring.length; i += 2) {
      [x0, x1] = [Math.min(x0, ring[i]!), Math.max(x1, ring[i]!)];
      [y0, y1] = [Math.min(y0, ring[i + 1]!), Math.max(y1, ring[i + 1]!)];
    }
  return [x0, y0, x1, y1];
}
