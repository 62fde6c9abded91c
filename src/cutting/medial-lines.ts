import { simplifyIndices } from '../geometry/simplify.js';
import type { MedialAxis, MedialNode } from './medial.js';

/**
 * The joints of an axis strung into as few lines as it allows: each begins at an end where there is one, goes as
 * straight on as it can through every fork, and stops where no joint is left to take.
 */
export function medialLines({ nodes, joints }: MedialAxis): MedialNode[][] {
  const left = new Map<number, number[]>();
  for (const [a, b] of joints) {
    link(left, a, b);
    link(left, b, a);
  }
  const lines: MedialNode[][] = [];
  const begin = (here: (branches: number) => boolean) => {
    for (const [node, branches] of left) while (here(branches.length)) lines.push(walk(nodes, left, node));
  };
  begin((branches) => branches === 1);
  begin((branches) => branches % 2 === 1);
  begin((branches) => branches > 0);
  return lines;
}

type Branches = Map<number, number[]>;

function link(left: Branches, from: number, to: number): void {
  const known = left.get(from);
  if (known) known.push(to);
  else left.set(from, [to]);
}

function walk(nodes: readonly MedialNode[], left: Branches, from: number): MedialNode[] {
  const line = [nodes[from]!];
  let last: MedialNode | undefined;
  let at = from;
  for (let branches = left.get(at)!; branches.length > 0; branches = left.get(at)!) {
    const here = nodes[at]!;
    const next = last ? straightestBranch(nodes, last, here, branches) : branches[0]!;
    branches.splice(branches.indexOf(next), 1);
    const back = left.get(next)!;
    back.splice(back.indexOf(at), 1);
    line.push(nodes[next]!);
    last = here;
    at = next;
  }
  return line;
}

function straightestBranch(
  nodes: readonly MedialNode[],
  last: MedialNode,
  here: MedialNode,
  branches: number[],
): number {
  const turn = (branch: number) => {
    const to = nodes[branch]!;
    const [ax, ay, bx, by] = [here.x - last.x, here.y - last.y, to.x - here.x, to.y - here.y];
    return Math.abs(Math.atan2(ax * by - ay * bx, ax * bx + ay * by));
  };
  return branches.reduce((best, branch) => (turn(branch) < turn(best) ? branch : best));
}

/**
 * A line without the points its straight stretches can do without: none strays farther than `tolerance` mm from the
 * stretch that stands for it, its radius counted in.
 */
export function simplifyMedialLine(line: readonly MedialNode[], tolerance: number): MedialNode[] {
  const distance = (i: number, from: number, to: number) => deviationOf(line[i]!, line[from]!, line[to]!);
  return simplifyIndices(line.length, tolerance, distance).map((i) => line[i]!);
}

/** How far a node lies from the straight stretch between two, in x, y and radius. */
function deviationOf({ x, y, r }: MedialNode, p: MedialNode, q: MedialNode): number {
  const [vx, vy, vr] = [q.x - p.x, q.y - p.y, q.r - p.r];
  const l = vx * vx + vy * vy + vr * vr;
  const t = l === 0 ? 0 : ((x - p.x) * vx + (y - p.y) * vy + (r - p.r) * vr) / l;
  const u = Math.min(1, Math.max(0, t));
  return Math.hypot(x - p.x - u * vx, y - p.y - u * vy, r - p.r - u * vr);
}
