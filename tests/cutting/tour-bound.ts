/**
 * A length no way through all lines can be shorter than, mm. M. Held and R. M. Karp, The traveling-salesman problem and
 * minimum spanning trees, Operations Research 18 (1970) 1138-1162, and part II, Mathematical Programming 1 (1971) 6-25
 * (from memory): for any weights w on the points, the least 1-tree under lengths d(p, q) + w(p) + w(q), less twice
 * the sum of w, is a bound; w is climbed by how far each point is from having two edges.
 *
 * Points 2i and 2i + 1 are the two ends of a line, joined by an edge of no length that every way takes, so every tree
 * takes it too. A way from anywhere to anywhere is a tour through one more point at no distance from any: it is left
 * out of the tree and joined to it by its two cheapest edges.
 *
 * Where that is not yet `enough`, it is branched as in part II: beside its line a point has one more edge at most, so
 * of the other edges it has in the tree each is kept in turn and the rest are forbidden, and the least of those bounds
 * is one too.
 */
export function heldKarp(n: number, d: Float64Array, goal: number, enough: number, levels = LEVELS): number {
  const { length, from } = ascent(n, d, goal, enough);
  const forked = levels > 0 && length < enough ? fork(n, from) : [];
  if (forked.length === 0) return length;
  const [p, others] = forked as [number, number[]];
  let least = Number.POSITIVE_INFINITY;
  for (const kept of others) {
    const barred = d.slice();
    for (const q of others)
      if (q !== kept) {
        barred[p * n + q] = Number.POSITIVE_INFINITY;
        barred[q * n + p] = Number.POSITIVE_INFINITY;
      }
    least = Math.min(least, heldKarp(n, barred, goal, enough, levels - 1));
    if (least <= length) break;
  }
  return Math.max(length, least);
}

const LEVELS = 14;
const ROUNDS = 300;

interface Tree {
  readonly length: number;
  /** The point each point is joined to, nearer the first. */
  readonly from: Int32Array;
}

function ascent(n: number, d: Float64Array, goal: number, enough: number): Tree {
  const weight = new Float64Array(n);
  const degree = new Int32Array(n);
  const last = new Int32Array(n).fill(2);
  let best: Tree = { length: 0, from: new Int32Array(0) };
  let step = 2;
  let idle = 0;
  for (let round = 0; round < ROUNDS && best.length < enough; round++) {
    const tree = oneTree(n, d, weight, degree);
    if (tree.length > best.length * (1 + 1e-6)) idle = 0;
    else if (++idle > 8) [step, idle] = [step / 1.7, 0];
    if (tree.length > best.length || round === 0) best = tree;
    let square = 0;
    for (let i = 0; i < n; i++) square += (degree[i]! - 2) ** 2;
    if (square === 0) return best;
    const by = (step * Math.max(goal - tree.length, goal * 1e-4)) / square;
    // Part of the move before is kept, which damps swinging.
    for (let i = 0; i < n; i++) {
      weight[i]! += by * (0.7 * (degree[i]! - 2) + 0.3 * (last[i]! - 2));
      last[i] = degree[i]!;
    }
  }
  return best;
}

/** The point with most edges beside its line's, where it has two or more, and where they lead. */
function fork(n: number, from: Int32Array): [number, number[]] | [] {
  const beside: number[][] = Array.from({ length: n }, () => []);
  from.forEach((q, p) => {
    if (q < 0 || (p ^ 1) === q) return;
    beside[p]!.push(q);
    beside[q]!.push(p);
  });
  let most = 0;
  for (let p = 1; p < n; p++) if (beside[p]!.length > beside[most]!.length) most = p;
  return beside[most]!.length < 2 ? [] : [most, beside[most]!];
}

/** The least 1-tree, its length less twice the weights; leaves how many edges each point has in `degree`. */
function oneTree(n: number, d: Float64Array, weight: Float64Array, degree: Int32Array): Tree {
  degree.fill(0);
  const key = new Float64Array(n).fill(Number.POSITIVE_INFINITY);
  const from = new Int32Array(n).fill(-1);
  const left = Int32Array.from({ length: n }, (_, i) => i);
  let count = n;
  let sum = 0;
  let p = 0;
  let slot = 0;
  for (;;) {
    left[slot] = left[--count]!;
    const q = from[p]!;
    if (q >= 0) {
      sum += ((p ^ 1) === q ? 0 : d[p * n + q]!) + weight[p]! + weight[q]!;
      degree[p]!++;
      degree[q]!++;
    }
    if (count === 0) break;
    if (q !== (p ^ 1)) {
      key[p ^ 1] = Number.NEGATIVE_INFINITY;
      from[p ^ 1] = p;
    }
    let least = Number.POSITIVE_INFINITY;
    for (let k = 0; k < count; k++) {
      const to = left[k]!;
      const cost = d[p * n + to]! + weight[p]! + weight[to]!;
      if (cost < key[to]!) {
        key[to] = cost;
        from[to] = p;
      }
      if (key[to]! <= least) [least, slot] = [key[to]!, k];
    }
    p = left[slot]!;
  }
  const [a, b] = twoLeast(n, weight);
  degree[a]!++;
  degree[b]!++;
  const twice = 2 * weight.reduce((all, w) => all + w, 0);
  return { length: sum + weight[a]! + weight[b]! - twice, from };
}

function twoLeast(n: number, weight: Float64Array): [number, number] {
  let [a, b] = weight[0]! <= weight[1]! ? [0, 1] : [1, 0];
  for (let i = 2; i < n; i++) {
    if (weight[i]! < weight[a]!) [a, b] = [i, a];
    else if (weight[i]! < weight[b]!) b = i;
  }
  return [a, b];
}
