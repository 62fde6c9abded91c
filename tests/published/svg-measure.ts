import svgpath from 'svgpath';

/** Signed area, and box as left, top, right, bottom. */
export interface Measure {
  readonly area: number;
  readonly box: readonly [number, number, number, number];
}

/** Path data under a transform, measured from svgpath's segments: all exact, arcs by SVG 2, B.2.4. */
export function measured(drawn: readonly (readonly [d: string, transform: string])[]): Measure {
  const gauge = new Gauge();
  for (const [d, transform] of drawn) {
    svgpath(d)
      .unshort()
      .transform(transform)
      .abs()
      .iterate(([command, ...v], _, x, y) => gauge.take(command, v as number[], x, y));
    gauge.end();
  }
  return gauge;
}

class Gauge implements Measure {
  area = 0;
  box: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
  #x = 0;
  #y = 0;
  #start: readonly [number, number] = [0, 0];

  take(command: string, v: readonly number[], x: number, y: number): void {
    if (command === 'M') {
      this.end();
      [this.#x, this.#y] = v as [number, number];
      this.#start = [this.#x, this.#y];
      this.#grow(this.#x, this.#y);
    } else if (command === 'Z' || command === 'z') this.end();
    else if (command === 'H') this.#line(v[0]!, y);
    else if (command === 'V') this.#line(x, v[0]!);
    else if (command === 'L') this.#line(v[0]!, v[1]!);
    else if (command === 'A') this.#arc(v);
    else this.#curve([this.#x, this.#y, ...v]);
  }

  end(): void {
    if (this.#x !== this.#start[0] || this.#y !== this.#start[1]) this.#line(...this.#start);
  }

  #grow(x: number, y: number): void {
    const [a, b, c, d] = this.box;
    this.box = [Math.min(a, x), Math.min(b, y), Math.max(c, x), Math.max(d, y)];
  }

  #line(x: number, y: number): void {
    this.area += (this.#x * y - x * this.#y) / 2;
    this.#grow(x, y);
    [this.#x, this.#y] = [x, y];
  }

  /** By Gauss's rule of three points, exact for the fifth powers of a cubic's area; turning points by bisection. */
  #curve(p: readonly number[]): void {
    const at = (t: number, axis: number): number => {
      let q = p.filter((_, i) => i % 2 === axis);
      while (q.length > 1) q = q.slice(1).map((b, i) => q[i]! * (1 - t) + b * t);
      return q[0]!;
    };
    const rate = (t: number, axis: number): number => {
      let q = p.filter((_, i) => i % 2 === axis);
      const n = q.length - 1;
      q = q.slice(1).map((b, i) => n * (b - q[i]!));
      while (q.length > 1) q = q.slice(1).map((b, i) => q[i]! * (1 - t) + b * t);
      return q[0]!;
    };
    for (const [t, w] of [
      [0.5 - Math.sqrt(0.15), 5 / 18],
      [0.5, 8 / 18],
      [0.5 + Math.sqrt(0.15), 5 / 18],
    ] as const)
      this.area += (w * (at(t, 0) * rate(t, 1) - at(t, 1) * rate(t, 0))) / 2;
    for (const axis of [0, 1]) {
      for (let k = 0; k < 64; k++) {
        let [low, high] = [k / 64, (k + 1) / 64];
        if (rate(low, axis) * rate(high, axis) > 0) continue;
        const rising = rate(low, axis) < 0;
        for (let n = 0; n < 50; n++) {
          const middle = (low + high) / 2;
          if (rate(middle, axis) < 0 === rising) low = middle;
          else high = middle;
        }
        this.#grow(at(low, 0), at(low, 1));
      }
    }
    [this.#x, this.#y] = p.slice(-2) as [number, number];
    this.#grow(this.#x, this.#y);
  }

  #arc([rx0, ry0, turn, large, sweep, ex, ey]: readonly number[]): void {
    const [x1, y1, x2, y2] = [this.#x, this.#y, ex!, ey!];
    if (x1 === x2 && y1 === y2) return;
    if (rx0 === 0 || ry0 === 0) {
      this.#line(x2, y2);
      return;
    }
    const phi = (turn! * Math.PI) / 180;
    const [cos, sin] = [Math.cos(phi), Math.sin(phi)];
    let [rx, ry] = [Math.abs(rx0!), Math.abs(ry0!)];
    const xp = (cos * (x1 - x2)) / 2 + (sin * (y1 - y2)) / 2;
    const yp = (-sin * (x1 - x2)) / 2 + (cos * (y1 - y2)) / 2;
    const lambda = (xp / rx) ** 2 + (yp / ry) ** 2;
    if (lambda > 1) [rx, ry] = [rx * Math.sqrt(lambda), ry * Math.sqrt(lambda)];
    const over = rx * rx * ry * ry - rx * rx * yp * yp - ry * ry * xp * xp;
    const root = Math.sqrt(Math.max(0, over / (rx * rx * yp * yp + ry * ry * xp * xp)));
    const k = large === sweep ? -root : root;
    const [cxp, cyp] = [(k * rx * yp) / ry, (-k * ry * xp) / rx];
    const [cx, cy] = [cos * cxp - sin * cyp + (x1 + x2) / 2, sin * cxp + cos * cyp + (y1 + y2) / 2];
    const from = Math.atan2((yp - cyp) / ry, (xp - cxp) / rx);
    let by = Math.atan2((-yp - cyp) / ry, (-xp - cxp) / rx) - from;
    if (sweep === 0 && by > 0) by -= 2 * Math.PI;
    if (sweep === 1 && by < 0) by += 2 * Math.PI;
    // x = cx + ux cos t + vx sin t, and y alike.
    const [ux, uy, vx, vy] = [rx * cos, rx * sin, -ry * sin, ry * cos];
    this.area += (cx * (y2 - y1) - cy * (x2 - x1) + (ux * vy - uy * vx) * by) / 2;
    for (const first of [Math.atan2(vx, ux), Math.atan2(vy, uy)]) {
      for (let t = first - 4 * Math.PI; t < 4 * Math.PI; t += Math.PI) {
        const part = (t - from) / by;
        if (part > 0 && part < 1)
          this.#grow(cx + ux * Math.cos(t) + vx * Math.sin(t), cy + uy * Math.cos(t) + vy * Math.sin(t));
      }
    }
    [this.#x, this.#y] = [x2, y2];
    this.#grow(x2, y2);
  }
}
