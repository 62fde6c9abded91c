import { Grid, type Line } from './raster.js';

/** The definitions of docs/min-feature.md, judged cell by cell. */
export interface Judged {
  readonly land: boolean;
  readonly thin: boolean;
}

type Points = readonly (readonly [number, number])[];

export class LetterGrid {
  readonly #grid: Grid;
  readonly #drawn: Uint8Array;
  readonly #groups: { lines: Line[]; distance: Float64Array }[];
  readonly #nearest: Float64Array;
  readonly #whole: number;

  constructor(
    lines: readonly Line[],
    readonly filled: boolean,
    within: number,
    readonly h: number,
  ) {
    const grid = Grid.round(lines, within, h);
    this.#grid = grid;
    const toLines = grid.distance(lines, within);
    this.#nearest = toLines;
    const inside = filled ? grid.filled(lines.map((l) => l.points)) : undefined;
    this.#drawn = Uint8Array.from(toLines, (d, i) => (d < 0.75 * h || inside?.[i] ? 1 : 0));
    const { of, count } = grid.pieces(this.#drawn, true);
    const at = (l: Line) =>
      of[Math.floor((l.points[1]! - grid.y0) / h) * grid.nx + Math.floor((l.points[0]! - grid.x0) / h)]!;
    this.#groups = Array.from({ length: count }, (_, k) => {
      const own = lines.filter((l) => at(l) === k + 1);
      return { lines: own, distance: grid.distance(own, within) };
    });
    this.#whole = Math.hypot((grid.nx - (2 * within) / h) * h, (grid.ny - (2 * within) / h) * h);
  }

  /** Whether land narrower than `needed` is found where the drawn lines are no wider than drawn. */
  narrow(needed: number): boolean {
    return this.#gap(needed) || this.#counter(needed) || this.#groups.some((g) => this.#outside(g, needed));
  }

  #gap(needed: number): boolean {
    return this.#groups.some((a, i) =>
      this.#groups.slice(i + 1).some((b) => a.distance.some((d, c) => d + b.distance[c]! < needed)),
    );
  }

  #counter(needed: number): boolean {
    const grid = this.#grid;
    const open = this.#drawn.map((d) => 1 - d);
    const { of, count } = grid.pieces(open);
    const lines = grid.pieces(this.#drawn, true).of;
    for (let k = 1; k <= count; k++) {
      if (k === of[0]) continue;
      const round = new Set<number>();
      const middles = new Uint8Array(grid.size);
      let cells = 0;
      for (let i = 0; i < grid.size; i++) {
        if (of[i] !== k) continue;
        cells++;
        if (this.#nearest[i]! >= needed / 2) middles[i] = 1;
        for (const n of [i - 1, i + 1, i - grid.nx, i + grid.nx]) if (lines[n]) round.add(lines[n]!);
      }
      if (cells * this.h ** 2 < 0.001 * this.#whole ** 2) continue;
      const rooms = grid.pieces(middles, true).count;
      if (rooms === 0 || (rooms > 1 && round.size === 1)) return true;
    }
    return false;
  }

  #outside({ lines, distance }: { lines: readonly Line[]; distance: Float64Array }, needed: number): boolean {
    const grid = this.#grid;
    const own = new Uint8Array(grid.size);
    const shape = this.filled ? grid.filled(lines.map((l) => l.points)) : undefined;
    for (let i = 0; i < grid.size; i++) own[i] = distance[i]! < 0.75 * this.h || shape?.[i] ? 1 : 0;
    const land = grid.pieces(own.map((o) => 1 - o)).of.map((k, _, all) => (k === all[0] ? 1 : 0));
    const rooms = grid.pieces(
      land.map((o, i) => (o && distance[i]! >= needed / 2 ? 1 : 0)),
      true,
    );
    if (rooms.count > 1) return true;
    const reach = grid.toSet(rooms.of);
    const hull = hullOf(lines.flatMap((l) => pointsOf(l)));
    const edges = hull.map((a, i) => [a, hull[(i + 1) % hull.length]!] as const);
    const inward = (i: number, [[ax, ay], [bx, by]]: (typeof edges)[number]) =>
      ((bx - ax) * (grid.y(i) - ay) - (by - ay) * (grid.x(i) - ax)) / Math.hypot(bx - ax, by - ay);
    const inHull = land.map((o, i) => (o && edges.every((e) => inward(i, e) > 0) ? 1 : 0));
    const pockets = grid.pieces(inHull);
    const cellsOf: number[][] = Array.from({ length: pockets.count + 1 }, () => []);
    for (let i = 0; i < grid.size; i++) if (pockets.of[i]) cellsOf[pockets.of[i]!]!.push(i);
    return cellsOf.some((cells) => {
      if (cells.length < 20) return false;
      // an edge of the hull that is no drawn line
      const mouth = edges
        .map(
          (e) =>
            [
              e,
              cells.filter((i) => inward(i, e) < 1.5 * this.h && distance[i]! > 3 * this.h).length,
            ] as const,
        )
        .reduce((a, b) => (b[1] > a[1] ? b : a))[0];
      const depths = new Map(cells.map((i) => [i, inward(i, mouth)]));
      const depth = Math.max(...depths.values()) + this.h / 2;
      const across = Math.hypot(mouth[1][0] - mouth[0][0], mouth[1][1] - mouth[0][1]);
      if (depth <= 0.4 * across || depth <= 0.24 * this.#whole) return false;
      const deep = new Uint8Array(grid.size);
      for (const [i, d] of depths) deep[i] = d > depth / 2 ? 1 : 0;
      const branches = grid.pieces(deep);
      const told = Array.from({ length: branches.count + 1 }, () => ({ deepest: 0, open: false }));
      for (const [i, d] of depths) {
        const branch = told[branches.of[i]!]!;
        branch.deepest = Math.max(branch.deepest, d);
        if (reach[i]! < needed / 2) branch.open = true;
      }
      return told.slice(1).some((b) => b.deepest >= 0.75 * depth && !b.open);
    });
  }

  /** Whether a stroke of the area is narrower than a cut. */
  thin(cut: number): boolean {
    const grid = this.#grid;
    const h = this.h;
    const lines = this.#groups.flatMap((g) => g.lines);
    const inside = grid.filled(lines.map((l) => l.points));
    const fromMiddle = grid.toSet(inside.map((o, i) => (o && this.#nearest[i]! >= cut / 2 ? 1 : 0)));
    const got = inside.map((o, i) => (o && fromMiddle[i]! <= cut / 2 + h ? 1 : 0));
    const lost = grid.pieces(
      inside.map((o, i) => (o && !got[i] ? 1 : 0)),
      true,
    );
    const fromGot = grid.toSet(got);
    for (let k = 1; k <= lost.count; k++) {
      const piece = lost.of.map((p) => (p === k ? 1 : 0));
      if (piece.reduce((n, p) => n + p, 0) < 25) continue;
      const fromPiece = grid.toSet(piece);
      const reach = piece.reduce((most, p, i) => (p ? Math.max(most, fromGot[i]!) : most), 0);
      const touching = grid.pieces(
        got.map((g, i) => (g && fromPiece[i]! < 2.5 * h ? 1 : 0)),
        true,
      ).count;
      if (touching === 0 || reach > (touching > 1 ? 0.2 : 2) * cut) return true;
    }
    return false;
  }
}

const pointsOf = ({ points }: Line): [number, number][] =>
  Array.from({ length: points.length / 2 }, (_, i) => [points[2 * i]!, points[2 * i + 1]!]);

/** Gift wrapping, anticlockwise. */
function hullOf(points: Points): [number, number][] {
  let at = points.reduce((a, b) => (b[1] < a[1] || (b[1] === a[1] && b[0] < a[0]) ? b : a));
  const out: [number, number][] = [];
  do {
    out.push([at[0], at[1]]);
    let next = points[0]!;
    for (const p of points) {
      const turn = (next[0] - at[0]) * (p[1] - at[1]) - (next[1] - at[1]) * (p[0] - at[0]);
      const farther = Math.hypot(p[0] - at[0], p[1] - at[1]) > Math.hypot(next[0] - at[0], next[1] - at[1]);
      if (
        next === at ||
        (next[0] === at[0] && next[1] === at[1]) ||
        turn < -1e-12 ||
        (Math.abs(turn) <= 1e-12 && farther)
      )
        next = p;
    }
    at = next;
  } while ((at[0] !== out[0]![0] || at[1] !== out[0]![1]) && out.length < points.length);
  return out;
}
