import type { Cutter } from '../documents/schema/cutter.js';
import { boundsOf } from '../geometry/bounds.js';
import { type Cells, middleOf } from '../geometry/cell-grid.js';
import { cutWidth } from '../layout/cut-width.js';
import { type CutterForm, cutterForm } from '../layout/cutter-form.js';
import type { Setup } from '../layout/true-cut.js';
import type { Surface } from '../surface/surface.js';
import { toRad } from '../units.js';

/** Where a cutter's tip stands against a surface: z mm, angle degrees (running on), depth mm along the normal. */
export interface TipPlace {
  readonly z: number;
  readonly angle: number;
  readonly depth: number;
}

/** One straight move of the axes: z, angle and depth change evenly. */
export interface SweptMove {
  readonly from: TipPlace;
  readonly to: TipPlace;
}

/** A cutter on a surface: level, its axis goes through that of the part; tilted, it is square to the surface. */
export interface SweptTool {
  readonly surface: Surface;
  readonly setup: Setup;
  readonly cutter: Cutter;
}

/** What moves cut of a window of a sheet, by the middles of its cells. */
export interface CutField {
  readonly cells: Cells;
  /** How far inside the cutter's way the surface lies, mm; below 0 beside it, and -infinity far from it. 0 is the edge. */
  readonly inside: Float32Array;
  /** How deep the surface was cut along its normal, mm; 0 where it was not, and everywhere where it was not asked for. */
  readonly depth: Float32Array;
  /** Looks at cells that it took. */
  readonly steps: number;
}

/** So many cells beside the edge of a cut are looked at, so that the edge can be found between their middles. */
const CELLS_BESIDE = 2;

/**
 * The surface as moves of a cutter leave it: at each cell the deepest that the cutter's true form reaches over the true
 * surface (docs/swept-cut.md). The cells lie on the sheet whose y axis is at the part angle `turn`, degrees. Moves wholly
 * above the surface cut nothing. The sheet may show less than a turn or more; each move is cut at every place where it lies.
 */
export function sweptCut(
  tool: SweptTool,
  moves: readonly SweptMove[],
  cells: Cells,
  turn: number,
  asked: 'edges' | 'depths' = 'depths',
): CutField {
  const sweep = new Sweep(tool, cells, turn, asked === 'depths');
  for (const move of deepestOnly(moves)) sweep.move(move);
  sweep.end();
  return { cells, inside: sweep.inside, depth: sweep.depth, steps: sweep.steps };
}

/** Passes go over one path again and again: of moves between the same two places, one that is as deep as any at both ends. */
function deepestOnly(moves: readonly SweptMove[]): SweptMove[] {
  const deepest = new Map<string, SweptMove>();
  const others: SweptMove[] = [];
  for (const move of moves) {
    const { from, to } = move;
    if (Math.max(from.depth, to.depth) <= 0) continue;
    const isForward = from.z < to.z || (from.z === to.z && from.angle <= to.angle);
    const [a, b] = isForward ? [from, to] : [to, from];
    const key = `${a.z} ${a.angle} ${b.z} ${b.angle}`;
    const before = deepest.get(key);
    const one = { from: a, to: b };
    if (!before || (a.depth >= before.from.depth && b.depth >= before.to.depth)) deepest.set(key, one);
    else if (a.depth > before.from.depth || b.depth > before.to.depth) others.push(one);
  }
  return [...deepest.values(), ...others];
}

/** A piece of a move turns the part by no more than this, degrees, so that its cells lie in a small box. */
const MOST_TURN_DEG = 5;

class Sweep {
  readonly inside: Float32Array;
  readonly depth: Float32Array;
  steps = 0;
  readonly #surface: Surface;
  readonly #cutter: Cutter;
  readonly #form: CutterForm;
  readonly #cells: Cells;
  readonly #turn: number;
  readonly #deep: boolean;
  readonly #well: number;
  /** The middles of cells on the part, once they are looked at: slant mm, angle radians from the window's turn, radius mm, z mm. */
  readonly #slant: Float64Array;
  readonly #angle: Float64Array;
  readonly #radius: Float64Array;
  readonly #z: Float64Array;
  /** Of the surface against the part's axis, and of the cutter's axis against the part's radius. */
  readonly #sin: number;
  readonly #cos: number;
  readonly #axisSin: number;
  readonly #axisCos: number;
  /** Of the angle between the cutter's axis and the surface's normal. */
  readonly #leanSin: number;
  readonly #leanCos: number;
  /** Least and greatest angle of the window's cells, degrees. */
  readonly #angles: readonly [number, number];

  constructor({ surface, setup, cutter }: SweptTool, cells: Cells, turn: number, deep: boolean) {
    const count = cells.columns * cells.rows;
    this.inside = new Float32Array(count).fill(Number.NEGATIVE_INFINITY);
    this.depth = new Float32Array(count);
    this.#surface = surface;
    this.#cutter = cutter;
    this.#form = cutterForm(cutter);
    this.#cells = cells;
    this.#turn = turn;
    this.#deep = deep;
    this.#well = CELLS_BESIDE * cells.cell;
    this.#slant = new Float64Array(count);
    this.#angle = new Float64Array(count);
    this.#radius = new Float64Array(count);
    this.#z = new Float64Array(count).fill(Number.NaN);
    const taper = toRad(surface.taper);
    const axis = setup === 'tilted' ? taper : 0;
    [this.#sin, this.#cos] = [Math.sin(taper), Math.cos(taper)];
    [this.#axisSin, this.#axisCos] = [Math.sin(axis), Math.cos(axis)];
    [this.#leanSin, this.#leanCos] = [Math.sin(taper - axis), Math.cos(taper - axis)];
    this.#angles = anglesOver(surface, cells);
  }

  #place(k: number): void {
    const { z, angle } = this.#surface.toSurfaceNear(...middleOf(this.#cells, k));
    this.#z[k] = z;
    this.#angle[k] = toRad(angle);
    this.#radius[k] = this.#surface.radius(z);
    this.#slant[k] = this.#surface.slant(z);
  }

  move({ from, to }: SweptMove): void {
    const turn = this.#turn;
    const reach = this.#reachOf(Math.max(from.depth, to.depth), from, to);
    const least = Math.min(this.#surface.radius(from.z), this.#surface.radius(to.z));
    // A quarter turn away nothing is cut.
    const reachDeg = Math.min(90, (reach / Math.max(least, 1e-9)) * (180 / Math.PI));
    const low = Math.min(from.angle, to.angle) - turn - reachDeg;
    const high = Math.max(from.angle, to.angle) - turn + reachDeg;
    const last = Math.floor((high - this.#angles[0]) / 360);
    for (let turns = Math.ceil((low - this.#angles[1]) / 360); turns <= last; turns++)
      this.#turned(from, to, turn + 360 * turns, reach);
  }

  /**
   * How far along the surface, mm, from where its tip stands the cutter can reach: up a cone to a cutter that leans from its
   * normal the surface rises, and the more of the cutter is under it.
   */
  #reachOf(depth: number, from: TipPlace, to: TipPlace): number {
    const rise = Math.abs(this.#leanSin / this.#leanCos);
    const radius = Math.min(this.#surface.radius(from.z), this.#surface.radius(to.z));
    const straight = depth / this.#leanCos;
    const most = this.#surface.slant(this.#surface.z1) + radius;
    let reach = cutWidth(this.#cutter, straight) / 2;
    for (let k = 0; rise > 1e-9 && k < 60; k++) {
      const next = Math.min(most, cutWidth(this.#cutter, straight + reach * rise) / 2);
      if (next <= reach * 1.001) break;
      reach = next;
    }
    // Round the part the way along the surface is an arc: longer than the chord, and a quarter turn at most.
    const arc = radius * Math.asin(Math.min(1, reach / radius));
    // Under a wall that leans over it a place is reached from farther away.
    return (Math.max(reach * 1.01, arc) + straight * rise) / this.#leanCos;
  }

  #turned(from: TipPlace, to: TipPlace, turned: number, reach: number): void {
    const { cell } = this.#cells;
    const [x0, y0] = this.#surface.toSheet(from.z, from.angle - turned);
    const [x1, y1] = this.#surface.toSheet(to.z, to.angle - turned);
    const byTurn = Math.abs(to.angle - from.angle) / MOST_TURN_DEG;
    const byLength = Math.hypot(x1 - x0, y1 - y0) / Math.max(4 * reach, 8 * cell);
    const count = Math.max(1, Math.ceil(Math.max(byTurn, byLength)));
    let a = { ...from, angle: from.angle - turned };
    for (let k = 1; k <= count; k++) {
      const t = k / count;
      const b = {
        z: from.z + t * (to.z - from.z),
        angle: from.angle + t * (to.angle - from.angle) - turned,
        depth: from.depth + t * (to.depth - from.depth),
      };
      this.#piece(a, b, reach);
      a = b;
    }
  }

  /** Cuts a short piece of a move at every cell within reach. */
  #piece(a: TipPlace, b: TipPlace, reach: number): void {
    const { left, bottom, cell, columns, rows } = this.#cells;
    const box = boundsOf([...this.#surface.toSheet(a.z, a.angle), ...this.#surface.toSheet(b.z, b.angle)]);
    const margin = reach * 1.02 + (CELLS_BESIDE + 1) * cell;
    const index = (at: number, count: number) => Math.min(count, Math.max(0, Math.floor(at / cell)));
    const column0 = index(box[0] - margin - left, columns);
    const column1 = index(box[2] + margin - left + cell, columns);
    const row0 = index(box[1] - margin - bottom, rows);
    const row1 = index(box[3] + margin - bottom + cell, rows);
    const far = reach + CELLS_BESIDE * cell;
    const piece = this.#pieceOf(a, b);
    for (let row = row0; row < row1; row++)
      for (let k = row * columns + column0, end = row * columns + column1; k < end; k++) {
        this.steps++;
        this.#cell(k, piece, far);
      }
  }

  #pieceOf(a: TipPlace, b: TipPlace): Piece {
    const along = this.#surface.slant(b.z) - this.#surface.slant(a.z);
    return {
      a,
      angle: toRad(a.angle),
      turns: toRad(b.angle) - toRad(a.angle),
      slant: this.#surface.slant(a.z),
      z: b.z - a.z,
      depth: b.depth - a.depth,
      along: along * this.#leanCos,
      down: (b.depth - a.depth) / this.#leanCos - along * this.#leanSin,
      deepest: Math.max(a.depth, b.depth),
    };
  }

  /** Holds one cell against a piece of a move. */
  #cell(k: number, piece: Piece, far: number): void {
    // Where only edges are asked for, a place well within the cut is done with.
    if (!this.#deep && this.inside[k]! > this.#well) return;
    if (Number.isNaN(this.#z[k]!)) this.#place(k);
    const nearest = this.#nearest(k, piece, 0, far);
    if (nearest === undefined) return;
    const { t, best } = nearest;
    let inside = this.#held(k, piece, t, 0, 'inside');
    if (best !== t) inside = Math.max(inside, this.#held(k, piece, best, 0, 'inside'));
    if (inside > this.inside[k]!) this.inside[k] = inside;
    // Under a wall that leans a place may be cut away though this piece leaves the surface above it.
    if (this.#deep && inside > -piece.deepest) this.#deepen(k, piece);
  }

  /** Keeps how deep the normal of a cell is cut away by a piece of a move, where that is deeper than before. */
  #deepen(k: number, piece: Piece): void {
    const at = (below: number): number => {
      const { t, best } = this.#nearest(k, piece, below, Number.POSITIVE_INFINITY)!;
      let most = this.#held(k, piece, t, below, 'above');
      // The last of a floor may lie just past its side, since the way is bent: a little nearer, it does not.
      for (let n = 0; best !== t && n < NEARER.length; n++) {
        const value = this.#held(k, piece, t + NEARER[n]! * (best - t), below, 'above');
        if (value > most) {
          most = value;
          break;
        }
      }
      return most;
    };
    const before = this.depth[k]!;
    const first = at(before);
    const start = first > 0 ? before : firstAbove(at, before, piece.deepest * 1.1);
    if (start !== undefined) this.depth[k] = deepestAbove(at, start, at(start));
  }

  /**
   * Where on a piece of a move the cutter comes nearest to the place `below` a cell, and where it reaches deepest under
   * it, as parts of the piece. Undefined where it stays farther than `far` mm.
   */
  #nearest(
    k: number,
    piece: Piece,
    below: number,
    far: number,
  ): { readonly t: number; readonly best: number } | undefined {
    // Beside the piece's start, as the cutter sees it: w round the part, u along it.
    const r = this.#radius[k]! - below * this.#cos;
    const w = r * (this.#angle[k]! - piece.angle);
    const u = (this.#slant[k]! - piece.slant) * this.#leanCos + below * this.#leanSin;
    const across = r * piece.turns;
    const length = Math.sqrt(across * across + piece.along * piece.along);
    if (length < SHORTEST_MM) {
      if (w * w + u * u > far * far) return undefined;
      const t = piece.depth > 0 ? 1 : 0;
      return { t, best: t };
    }
    const nearest = (w * across + u * piece.along) / length;
    const q = Math.abs(w * piece.along - u * across) / length;
    if (q > far || nearest < -far || nearest > length + far) return undefined;
    const share = across / length;
    const bend = (share * share * this.#axisCos) / r;
    const slope = piece.down / length + ((w - nearest * share) / r) * share * this.#axisCos;
    const best = nearest + this.#form.deepest(q, slope, bend);
    return { t: clamp(nearest / length), best: clamp(best / length) };
  }

  /** How the place `below` a cell lies in the cutter where it stands at a part of a piece. */
  #held(k: number, piece: Piece, t: number, below: number, measure: 'inside' | 'above'): number {
    const z = piece.a.z + t * piece.z;
    const away = this.#angle[k]! - (piece.angle + t * piece.turns);
    const [sinAway, cosAway] = [Math.sin(away), Math.cos(away)];
    if (cosAway <= 0) return Number.NEGATIVE_INFINITY;
    // The tip: from the surface down along the cutter's axis.
    const plunge = (piece.a.depth + t * piece.depth) / this.#leanCos;
    const tipZ = z + this.#axisSin * plunge;
    const tipR = this.#surface.radius(z) - this.#axisCos * plunge;
    const r = this.#radius[k]! - below * this.#cos;
    const axial = this.#z[k]! + below * this.#sin - tipZ;
    const radial = r * cosAway - tipR;
    const h = radial * this.#axisCos - axial * this.#axisSin;
    const across = axial * this.#axisCos + radial * this.#axisSin;
    const round = r * sinAway;
    const q = Math.sqrt(across * across + round * round);
    return measure === 'inside' ? this.#form.inside(q, h) : this.#form.above(q, h);
  }

  /** What no piece cut at the surface is not cut at all. */
  end(): void {
    for (let k = 0; k < this.depth.length; k++) if (!(this.inside[k]! > 0)) this.depth[k] = 0;
  }
}

/** Least and greatest angle of a window's cells, degrees: along a side of the window the angle only rises or only falls. */
function anglesOver(surface: Surface, cells: Cells): readonly [low: number, high: number] {
  const { columns, rows } = cells;
  const corners = [0, columns - 1, columns * (rows - 1), columns * rows - 1];
  const angles = corners.map((k) => surface.toSurfaceNear(...middleOf(cells, k)).angle);
  return [Math.min(...angles), Math.max(...angles)];
}

/** A short piece of a move, with what every cell asks of it: angles in radians, lengths in mm. */
interface Piece {
  readonly a: TipPlace;
  readonly angle: number;
  readonly turns: number;
  readonly slant: number;
  readonly z: number;
  readonly depth: number;
  /** Along the part as the cutter sees it, and how far its tip goes down on the way. */
  readonly along: number;
  readonly down: number;
  readonly deepest: number;
}

const SHORTEST_MM = 1e-9;
/** Parts of the way to where the cutter reaches deepest. */
const NEARER = [1, 0.99, 0.96, 0.9, 0.8];
const clamp = (t: number): number => Math.min(1, Math.max(0, t));

/** Depths are found this closely, mm. */
const DEPTH_MM = 1e-5;

/** A depth within the cutter between two at which it is not, by golden sections of a function with one top; else undefined. */
function firstAbove(at: (below: number) => number, low: number, high: number): number | undefined {
  if (high <= low) return undefined;
  let [a, b] = [low, high];
  let [c, d] = [b - GOLDEN * (b - a), a + GOLDEN * (b - a)];
  let [atC, atD] = [at(c), at(d)];
  for (let k = 0; k < 12; k++) {
    if (atC > 0) return c;
    if (atD > 0) return d;
    if (atC < atD) {
      [a, c, atC] = [c, d, atD];
      d = a + GOLDEN * (b - a);
      atD = at(d);
    } else {
      [b, d, atD] = [d, c, atC];
      c = b - GOLDEN * (b - a);
      atC = at(c);
    }
  }
  return undefined;
}

const GOLDEN = (Math.sqrt(5) - 1) / 2;

/** The depth, mm, at which the normal leaves the cutter, within which it lies at `low`: by false position. */
function deepestAbove(at: (below: number) => number, low: number, lowAt: number): number {
  let high = low + 1.01 * lowAt + DEPTH_MM;
  let highAt = at(high);
  for (let k = 0; highAt > 0 && k < 40; k++) {
    [low, lowAt] = [high, highAt];
    high += 1.5 * highAt + DEPTH_MM;
    highAt = at(high);
  }
  for (let k = 0; k < 30 && high - low > DEPTH_MM; k++) {
    // Halved now and then: beside a straight side all falls away at once.
    const share = k % 3 === 2 ? 0.5 : clamp(lowAt / (lowAt - highAt));
    const middle = low + share * (high - low);
    const value = at(middle);
    if (Math.abs(value) < DEPTH_MM / 10) return middle;
    if (value > 0) [low, lowAt] = [middle, value];
    else [high, highAt] = [middle, value];
  }
  return low;
}
