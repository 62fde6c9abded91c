import type { PathCommand } from '../../geometry/path-command.js';

/**
 * Path data (SVG 2, 9.3) as absolute lines and curves, arcs as cubics. As the standard asks, a path is read up to the
 * first fault in it; `fault` then tells where.
 */
export interface ReadPath {
  readonly path: readonly PathCommand[];
  readonly fault?: number;
}

const COUNTS: Readonly<Record<string, number>> = {
  M: 2,
  L: 2,
  H: 1,
  V: 1,
  C: 6,
  S: 4,
  Q: 4,
  T: 2,
  A: 7,
  Z: 0,
};
const NUMBER = /[\s,]*([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)/y;
const FLAG = /[\s,]*([01])/y;

export function readPath(d: string): ReadPath {
  const pen = new PathPen();
  let i = 0;
  let command = '';
  const next = (form: RegExp): number | undefined => {
    form.lastIndex = i;
    const match = form.exec(d);
    if (!match) return undefined;
    i = form.lastIndex;
    return Number(match[1]);
  };
  for (;;) {
    while (i < d.length && /[\s,]/.test(d[i]!)) i++;
    if (i >= d.length) return { path: pen.path };
    const from = i;
    if (/[a-zA-Z]/.test(d[i]!)) command = d[i++]!;
    else if (command === '' || /[zZ]/.test(command)) return { path: pen.path, fault: from };
    const kind = command.toUpperCase();
    const count = COUNTS[kind];
    if (count === undefined || (pen.path.length === 0 && kind !== 'M'))
      return { path: pen.path, fault: from };
    const v: number[] = [];
    while (v.length < count) {
      const figure = next(kind === 'A' && (v.length === 3 || v.length === 4) ? FLAG : NUMBER);
      if (figure === undefined || !(Math.abs(figure) <= LARGEST)) return { path: pen.path, fault: i };
      v.push(figure);
    }
    pen.draw(kind, command !== kind, v);
    if (pen.path.length > MOST_SEGMENTS) return { path: pen.path, fault: i };
    if (kind === 'M') command = command === 'm' ? 'l' : 'L';
  }
}

/** Farther out than any drawing, and near enough that figures keep their places. */
const LARGEST = 1e7;
export const MOST_SEGMENTS = 500_000;

class PathPen {
  readonly path: PathCommand[] = [];
  #x = 0;
  #y = 0;
  #startX = 0;
  #startY = 0;
  /** The control point a smooth curve reflects, and of which kind of curve. */
  #control: readonly [kind: 'C' | 'Q', x: number, y: number] | undefined;
  #closed = false;

  draw(kind: string, relative: boolean, v: number[]): void {
    const [ox, oy] = relative ? [this.#x, this.#y] : [0, 0];
    // After a closing, what follows begins a new subpath where the last one began.
    if (this.#closed && kind !== 'M' && kind !== 'Z') this.path.push(['M', this.#x, this.#y]);
    this.#closed = false;
    let control: readonly ['C' | 'Q', number, number] | undefined;
    const p = (i: number): [number, number] => [v[i]! + ox, v[i + 1]! + oy];
    switch (kind) {
      case 'M':
        this.#to('M', p(0));
        [this.#startX, this.#startY] = [this.#x, this.#y];
        break;
      case 'L':
        this.#to('L', p(0));
        break;
      case 'H':
        this.#to('L', [v[0]! + ox, this.#y]);
        break;
      case 'V':
        this.#to('L', [this.#x, v[0]! + oy]);
        break;
      case 'C':
        control = ['C', ...p(2)];
        this.#curve(['C', ...p(0), ...p(2), ...p(4)]);
        break;
      case 'S':
        control = ['C', ...p(0)];
        this.#curve(['C', ...this.#reflected('C'), ...p(0), ...p(2)]);
        break;
      case 'Q':
        control = ['Q', ...p(0)];
        this.#curve(['Q', ...p(0), ...p(2)]);
        break;
      case 'T': {
        const turned = this.#reflected('Q');
        control = ['Q', ...turned];
        this.#curve(['Q', ...turned, ...p(0)]);
        break;
      }
      case 'A': {
        const [x, y] = p(5);
        for (const piece of arc([this.#x, this.#y], v as unknown as ArcFigures, [x, y])) this.#curve(piece);
        [this.#x, this.#y] = [x, y];
        break;
      }
      default:
        this.path.push(['Z']);
        [this.#x, this.#y] = [this.#startX, this.#startY];
        this.#closed = true;
    }
    this.#control = control;
  }

  #to(command: 'M' | 'L', [x, y]: readonly [number, number]): void {
    this.path.push([command, x, y]);
    [this.#x, this.#y] = [x, y];
  }

  #curve(segment: PathCommand): void {
    this.path.push(segment);
    [this.#x, this.#y] = segment.slice(-2) as [number, number];
  }

  #reflected(kind: 'C' | 'Q'): [number, number] {
    if (this.#control?.[0] !== kind) return [this.#x, this.#y];
    return [2 * this.#x - this.#control[1], 2 * this.#y - this.#control[2]];
  }
}

type ArcFigures = readonly [
  rx: number,
  ry: number,
  turn: number,
  large: number,
  sweep: number,
  x: number,
  y: number,
];

/** An arc is drawn by cubics over this much of its turn at the most, which stray less than 1e-7 of its radius. */
const ARC_STEP = Math.PI / 8;

/** An elliptical arc as cubics: centre and angles as in SVG 2, B.2.4, radii grown where they do not reach, B.2.5. */
function arc(
  [x0, y0]: readonly [number, number],
  [rxGiven, ryGiven, turn, large, sweep]: ArcFigures,
  [x1, y1]: readonly [number, number],
): PathCommand[] {
  if (x0 === x1 && y0 === y1) return [];
  let [rx, ry] = [Math.abs(rxGiven), Math.abs(ryGiven)];
  if (rx === 0 || ry === 0) return [['L', x1, y1]];
  const phi = (turn * Math.PI) / 180;
  const [c, s] = [Math.cos(phi), Math.sin(phi)];
  const [hx, hy] = [(x0 - x1) / 2, (y0 - y1) / 2];
  const [u, v] = [c * hx + s * hy, c * hy - s * hx];
  const over = (u / rx) ** 2 + (v / ry) ** 2;
  if (over > 1) [rx, ry] = [rx * Math.sqrt(over), ry * Math.sqrt(over)];
  const [p, q] = [u / rx, v / ry];
  const k = (large === sweep ? -1 : 1) * Math.sqrt(Math.max(0, 1 / (p * p + q * q) - 1));
  // On the unit circle the ends are p, q and -p, -q, seen from the middle between them.
  const [mx, my] = [k * q, -k * p];
  const from = Math.atan2(q - my, p - mx);
  let by = Math.atan2(-q - my, -p - mx) - from;
  if (sweep === 1 && by < 0) by += 2 * Math.PI;
  if (sweep === 0 && by > 0) by -= 2 * Math.PI;
  const at = (ux: number, uy: number): [number, number] => {
    const [ex, ey] = [(ux + mx) * rx, (uy + my) * ry];
    return [c * ex - s * ey + (x0 + x1) / 2, s * ex + c * ey + (y0 + y1) / 2];
  };
  const steps = Math.max(1, Math.ceil(Math.abs(by) / ARC_STEP - 1e-9));
  const step = by / steps;
  const lever = (4 / 3) * Math.tan(step / 4);
  const out: PathCommand[] = [];
  for (let i = 0; i < steps; i++) {
    const [a, b] = [from + i * step, from + (i + 1) * step];
    const [ca, sa, cb, sb] = [Math.cos(a), Math.sin(a), Math.cos(b), Math.sin(b)];
    const end = i === steps - 1 ? ([x1, y1] as const) : at(cb, sb);
    out.push(['C', ...at(ca - lever * sa, sa + lever * ca), ...at(cb + lever * sb, sb - lever * cb), ...end]);
  }
  return out;
}
