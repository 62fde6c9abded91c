/**
 * Geometry by brute force on a grid of square cells, sharing nothing with the code under test: exact distances from
 * cell middles to segments, filling by crossings, flooding, hulls of cells, exact distance transforms.
 */
export interface Line {
  readonly points: Float64Array;
  readonly closed: boolean;
}

/** To the four neighbours by edges, then the four by corners. */
const DX = [1, -1, 0, 0, 1, 1, -1, -1];
const DY = [0, 0, 1, -1, 1, -1, 1, -1];

export class Grid {
  readonly nx: number;
  readonly ny: number;

  constructor(
    readonly x0: number,
    readonly y0: number,
    x1: number,
    y1: number,
    readonly h: number,
  ) {
    this.nx = Math.ceil((x1 - x0) / h);
    this.ny = Math.ceil((y1 - y0) / h);
  }

  get size(): number {
    return this.nx * this.ny;
  }

  x = (i: number): number => this.x0 + ((i % this.nx) + 0.5) * this.h;
  y = (i: number): number => this.y0 + (Math.floor(i / this.nx) + 0.5) * this.h;

  static round(lines: readonly Line[], margin: number, h: number): Grid {
    let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
    for (const { points } of lines)
      for (let i = 0; i < points.length; i += 2) {
        [x0, x1] = [Math.min(x0, points[i]!), Math.max(x1, points[i]!)];
        [y0, y1] = [Math.min(y0, points[i + 1]!), Math.max(y1, points[i + 1]!)];
      }
    return new Grid(x0 - margin, y0 - margin, x1 + margin, y1 + margin, h);
  }

  /** Distance from each cell's middle to the nearest line, mm; infinite beyond `within`. */
  distance(lines: readonly Line[], within: number): Float64Array {
    const out = new Float64Array(this.size).fill(Infinity);
    for (const { points: p, closed } of lines) {
      const n = p.length / 2;
      for (let k = 0; k < (closed ? n : n - 1); k++) {
        const m = (k + 1) % n;
        this.#splat(out, p[2 * k]!, p[2 * k + 1]!, p[2 * m]!, p[2 * m + 1]!, within);
      }
    }
    return out;
  }

  #splat(out: Float64Array, ax: number, ay: number, bx: number, by: number, r: number): void {
    const { h, nx, ny, x0, y0 } = this;
    const from = (v: number, o: number) => Math.max(0, Math.floor((v - r - o) / h));
    const to = (v: number, o: number, n: number) => Math.min(n - 1, Math.ceil((v + r - o) / h));
    const [vx, vy] = [bx - ax, by - ay];
    const l = vx * vx + vy * vy;
    for (let j = from(Math.min(ay, by), y0); j <= to(Math.max(ay, by), y0, ny); j++)
      for (let i = from(Math.min(ax, bx), x0); i <= to(Math.max(ax, bx), x0, nx); i++) {
        const [px, py] = [x0 + (i + 0.5) * h - ax, y0 + (j + 0.5) * h - ay];
        const t = l === 0 ? 0 : Math.max(0, Math.min(1, (px * vx + py * vy) / l));
        const d = Math.hypot(px - t * vx, py - t * vy);
        if (d <= r && d < out[j * nx + i]!) out[j * nx + i] = d;
      }
  }

  /** 1 where the rings wind round the cell's middle. */
  filled(rings: readonly Float64Array[]): Uint8Array {
    const out = new Uint8Array(this.size);
    for (let j = 0; j < this.ny; j++) {
      const y = this.y0 + (j + 0.5) * this.h;
      const hits: [number, number][] = [];
      for (const r of rings)
        for (let k = 0, m = r.length - 2; k < r.length; m = k, k += 2) {
          const [ay, by] = [r[m + 1]!, r[k + 1]!];
          if (ay > y === by > y) continue;
          hits.push([r[m]! + ((y - ay) / (by - ay)) * (r[k]! - r[m]!), by > ay ? 1 : -1]);
        }
      hits.sort((a, b) => a[0] - b[0]);
      let [wind, at] = [0, 0];
      for (let i = 0; i < this.nx; i++) {
        const x = this.x0 + (i + 0.5) * this.h;
        while (at < hits.length && hits[at]![0] <= x) wind += hits[at++]![1];
        out[j * this.nx + i] = wind === 0 ? 0 : 1;
      }
    }
    return out;
  }

  /** Numbers of the connected pieces of the cells set, from 1; joined by edges, or by corners too. */
  pieces(set: ArrayLike<number | boolean>, corners = false): { of: Int32Array; count: number } {
    const of = new Int32Array(this.size);
    let count = 0;
    for (let s = 0; s < this.size; s++) {
      if (!set[s] || of[s]) continue;
      of[s] = ++count;
      const stack = [s];
      for (let i = stack.pop(); i !== undefined; i = stack.pop()) {
        const x = i % this.nx;
        for (let n = 0; n < (corners ? 8 : 4); n++) {
          const u = x + DX[n]!;
          const k = i + DX[n]! + DY[n]! * this.nx;
          if (u < 0 || u >= this.nx || k < 0 || k >= this.size || !set[k] || of[k]) continue;
          of[k] = count;
          stack.push(k);
        }
      }
    }
    return { of, count };
  }

  /** Distance from each cell to the nearest set one, mm, middle to middle: the lower envelope of parabolas. */
  toSet(set: ArrayLike<number | boolean>): Float64Array {
    const [nx, ny] = [this.nx, this.ny];
    const out = new Float64Array(this.size);
    for (let i = 0; i < this.size; i++) out[i] = set[i] ? 0 : 1e12;
    for (let x = 0; x < nx; x++) this.#envelope(out, x, nx, ny);
    for (let y = 0; y < ny; y++) this.#envelope(out, y * nx, 1, nx);
    return out.map((d) => (d >= 1e11 ? Infinity : Math.sqrt(d) * this.h));
  }

  #envelope(f: Float64Array, start: number, stride: number, n: number): void {
    const g = Float64Array.from({ length: n }, (_, q) => f[start + q * stride]!);
    const at = new Int32Array(n);
    const z = new Float64Array(n + 1);
    let k = 0;
    z[0] = -Infinity;
    z[1] = Infinity;
    const meet = (q: number, p: number) => (g[q]! + q * q - g[p]! - p * p) / (2 * (q - p));
    for (let q = 1; q < n; q++) {
      while (meet(q, at[k]!) <= z[k]!) k--;
      const s = meet(q, at[k]!);
      at[++k] = q;
      z[k] = s;
      z[k + 1] = Infinity;
    }
    k = 0;
    for (let q = 0; q < n; q++) {
      while (z[k + 1]! < q) k++;
      f[start + q * stride] = (q - at[k]!) ** 2 + g[at[k]!]!;
    }
  }
}
