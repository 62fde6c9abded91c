import { inset, union } from '../surface/polygons.js';
import { type FlatLine, toRad } from '../units.js';
import type { CutLine } from './cuts.js';
import { type MedialAxis, type MedialNode, medialAxis } from './medial.js';

export interface Cone {
  /** Tip width, mm. */
  readonly tip: number;
  /** Included angle, degrees. */
  readonly angle: number;
}

/** Taken off every radius, so that what chords and sampling add never cuts outside, mm. */
const HAIR_MM = 0.0002;
/** How far lines may be straightened, mm, sideways and in the radius they cut. */
const STRAIGHTEN_MM = 0.0005;
/** Steps between the rings of a floor, as a part of the tip's width, and at least this part of the widest radius. */
const STEP_OF_TIP = 0.9;
const STEP_OF_RADIUS = 0.25;

/**
 * The lines of a groove: a cone follows the medial axis, as deep as the area is wide there. Where the distance to the
 * edge is r, d = (r - t / 2) / tan(angle / 2), t the tip width (plane trigonometry), so that its rim just touches both
 * edges; corners come out sharp because the axis runs into them as the depth runs out. Where that would be deeper than
 * `depth`, the floor is flat at `depth` and is cut in rings. Where the area is narrower than the tip nothing is cut.
 */
export function groove(rings: readonly FlatLine[], { tip, angle }: Cone, depth: number): CutLine[] {
  const area = union(rings);
  const slope = Math.tan(toRad(angle) / 2);
  const widest = tip / 2 + depth * slope;
  const depthAt = (r: number) => Math.min(depth, Math.max(0, (r - HAIR_MM - tip / 2) / slope));
  const lines = chains(clipped(medialAxis(area), tip / 2 + HAIR_MM, widest + HAIR_MM))
    .map((chain) => straightened(chain))
    .filter((chain) => chain.length > 1)
    .map(
      (chain): CutLine => ({
        points: Float64Array.from(chain.flatMap(({ x, y }) => [x, y])),
        closed: false,
        depths: Float64Array.from(chain, ({ r }) => depthAt(r)),
      }),
    );
  return [
    ...lines,
    ...floorLines(area, widest + HAIR_MM, Math.max(tip * STEP_OF_TIP, widest * STEP_OF_RADIUS), depth),
  ];
}

/** Rings at full depth where the area is wider than the cutter's widest cut, from the edge inward. */
function floorLines(area: readonly FlatLine[], widest: number, step: number, depth: number): CutLine[] {
  const lines: CutLine[] = [];
  for (let by = widest; ; by += step) {
    const rings = inset(area, by);
    if (rings.length === 0) return lines;
    for (const points of rings)
      lines.push({ points, closed: true, depths: new Float64Array(points.length / 2).fill(depth) });
  }
}

/** The parts of an axis where the radius lies between two figures, joints cut where it passes one of them. */
function clipped({ nodes, joints }: MedialAxis, least: number, most: number): MedialAxis {
  const out: MedialNode[] = [...nodes];
  const kept: [number, number][] = [];
  for (const [a, b] of joints) {
    const [p, q] = [nodes[a]!, nodes[b]!];
    if (Math.max(p.r, q.r) <= least || Math.min(p.r, q.r) >= most) continue;
    const end = (node: number, from: MedialNode, to: MedialNode): number => {
      if (from.r >= least && from.r <= most) return node;
      const r = from.r < least ? least : most;
      const t = (r - from.r) / (to.r - from.r);
      out.push({ x: from.x + t * (to.x - from.x), y: from.y + t * (to.y - from.y), r });
      return out.length - 1;
    };
    kept.push([end(a, p, q), end(b, q, p)]);
  }
  return { nodes: out, joints: kept };
}

/** Joints strung into lines that run as far as they can without a fork. */
function chains({ nodes, joints }: MedialAxis): MedialNode[][] {
  const beside = new Map<number, number[]>();
  const add = (a: number, b: number) => {
    const known = beside.get(a);
    if (known) known.push(b);
    else beside.set(a, [b]);
  };
  for (const [a, b] of joints) {
    add(a, b);
    add(b, a);
  }
  const used = new Set<string>();
  const key = (a: number, b: number) => (a < b ? `${a} ${b}` : `${b} ${a}`);
  const walk = (from: number, to: number): MedialNode[] => {
    const chain = [nodes[from]!];
    let [last, here] = [from, to];
    for (;;) {
      used.add(key(last, here));
      chain.push(nodes[here]!);
      const ways = beside.get(here)!;
      if (ways.length !== 2) return chain;
      const next = ways[0] === last ? ways[1]! : ways[0]!;
      if (used.has(key(here, next))) return chain;
      [last, here] = [here, next];
    }
  };
  const out: MedialNode[][] = [];
  const start = (only: (ways: number) => boolean) => {
    for (const [node, ways] of beside) {
      if (!only(ways.length)) continue;
      for (const to of ways) if (!used.has(key(node, to))) out.push(walk(node, to));
    }
  };
  start((ways) => ways === 1);
  start((ways) => ways > 2);
  start((ways) => ways === 2);
  return out;
}

/** Points a straight stretch leaves out: none strays farther from it in x, y or radius than the tolerance. */
function straightened(chain: readonly MedialNode[]): MedialNode[] {
  const keep = new Uint8Array(chain.length);
  keep[0] = 1;
  keep[chain.length - 1] = 1;
  const stack: [number, number][] = [[0, chain.length - 1]];
  for (let next = stack.pop(); next; next = stack.pop()) {
    const [from, to] = next;
    const [p, q] = [chain[from]!, chain[to]!];
    const [vx, vy, vr] = [q.x - p.x, q.y - p.y, q.r - p.r];
    const l = vx * vx + vy * vy + vr * vr;
    let [worst, at] = [STRAIGHTEN_MM, -1];
    for (let k = from + 1; k < to; k++) {
      const { x, y, r } = chain[k]!;
      const t = l === 0 ? 0 : ((x - p.x) * vx + (y - p.y) * vy + (r - p.r) * vr) / l;
      const u = Math.min(1, Math.max(0, t));
      const d = Math.hypot(x - p.x - u * vx, y - p.y - u * vy, r - p.r - u * vr);
      if (d > worst) [worst, at] = [d, k];
    }
    if (at < 0) continue;
    keep[at] = 1;
    stack.push([from, at], [at, to]);
  }
  return chain.filter((_, k) => keep[k] === 1);
}
