/**
 * What a cutter leaves of a round part, by brute force in space and sharing nothing with the code under test: the part's
 * axis is the x axis, the cutter a solid of revolution about its own axis, and a place is cut where the solid holds it at
 * any of very many instants of a move (solid geometry; the forms of cutters as their makers draw them, from memory).
 */
export interface Solid {
  readonly shape: 'cone' | 'ball' | 'flat' | 'drag';
  readonly tip?: number;
  readonly angle?: number;
  readonly diameter?: number;
  readonly width?: number;
}

export interface Frustum {
  readonly z0: number;
  readonly z1: number;
  readonly r0: number;
  readonly r1: number;
}

export interface Stand {
  readonly z: number;
  readonly angle: number;
  readonly depth: number;
}

type Vector = readonly [number, number, number];

const minus = (a: Vector, b: Vector): Vector => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const along = (p: Vector, v: Vector, by: number): Vector => [
  p[0] + by * v[0],
  p[1] + by * v[1],
  p[2] + by * v[2],
];
const rad = (deg: number) => (deg * Math.PI) / 180;

/** Whether a solid whose tip stands at the origin, its axis pointing up, holds a place `q` from the axis and `h` up. */
function holds(solid: Solid, q: number, h: number): boolean {
  if (h < 0) return false;
  switch (solid.shape) {
    case 'cone':
      return q <= solid.tip! / 2 + h * Math.tan(rad(solid.angle! / 2));
    case 'ball': {
      const r = solid.diameter! / 2;
      return h >= r ? q <= r : q * q + (h - r) ** 2 <= r * r;
    }
    case 'flat':
      return q <= solid.diameter! / 2;
    case 'drag':
      return q <= solid.width! / 2;
  }
}

export class SolidSweep {
  readonly #tips: Vector[] = [];
  readonly #axes: Vector[] = [];
  readonly #slope: number;
  readonly #solid: Solid;
  readonly #part: Frustum;

  constructor(
    part: Frustum,
    tilted: boolean,
    solid: Solid,
    moves: readonly { readonly from: Stand; readonly to: Stand }[],
    instants: number,
  ) {
    this.#part = part;
    this.#solid = solid;
    this.#slope = Math.atan2(part.r1 - part.r0, part.z1 - part.z0);
    for (const { from, to } of moves)
      for (let k = 0; k <= instants; k++) {
        const t = k / instants;
        const z = from.z + t * (to.z - from.z);
        const angle = from.angle + t * (to.angle - from.angle);
        const depth = from.depth + t * (to.depth - from.depth);
        const radial: Vector = [0, Math.cos(rad(angle)), Math.sin(rad(angle))];
        const axis = tilted ? this.#normal(angle) : radial;
        this.#axes.push(axis);
        this.#tips.push(along(this.#at(z, angle), axis, -(tilted ? depth : depth / Math.cos(this.#slope))));
      }
  }

  #at(z: number, angle: number): Vector {
    const { z0, z1, r0, r1 } = this.#part;
    const r = r0 + ((z - z0) / (z1 - z0)) * (r1 - r0);
    return [z, r * Math.cos(rad(angle)), r * Math.sin(rad(angle))];
  }

  #normal(angle: number): Vector {
    const [s, c] = [Math.sin(this.#slope), Math.cos(this.#slope)];
    return [-s, c * Math.cos(rad(angle)), c * Math.sin(rad(angle))];
  }

  /** Whether the place `below` mm under the surface is cut away. */
  cuts(z: number, angle: number, below: number): boolean {
    const place = along(this.#at(z, angle), this.#normal(angle), -below);
    for (let k = 0; k < this.#tips.length; k++) {
      const v = minus(place, this.#tips[k]!);
      const h = dot(v, this.#axes[k]!);
      if (h >= 0 && holds(this.#solid, Math.sqrt(Math.max(0, dot(v, v) - h * h)), h)) return true;
    }
    return false;
  }

  /** How deep the surface is cut, mm, to a tenth of a micrometre, looked for upward from the deepest that may be. */
  depth(z: number, angle: number, most: number): number {
    if (!this.cuts(z, angle, 0)) return 0;
    let [low, high] = [0, most];
    while (high - low > 1e-4) {
      const middle = (low + high) / 2;
      if (this.cuts(z, angle, middle)) low = middle;
      else high = middle;
    }
    return low;
  }
}
