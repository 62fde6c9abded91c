/** A distance worked out in floating point may be this part less than the difference of heights that it is never less than. */
const ROUNDING = 1e-9;

/** Points by their heights, to be visited from a height outward, and taken out one by one. */
export class ByHeight {
  readonly #points: Int32Array;
  readonly #heights: Float64Array;
  readonly #places: Map<number, number>;
  /** Of each place, itself where its point is left, else a place on the way to the next above. One past the last is none. */
  readonly #above: Int32Array;
  /** The same downward, each place counted from 1; 0 is none. */
  readonly #below: Int32Array;

  constructor(points: Int32Array, heightOf: (point: number) => number) {
    const height = new Map<number, number>();
    for (const point of points) height.set(point, heightOf(point));
    this.#points = points.slice().sort((a, b) => height.get(a)! - height.get(b)! || a - b);
    this.#heights = Float64Array.from(this.#points, (point) => height.get(point)!);
    this.#places = new Map(Array.from(this.#points, (point, place) => [point, place]));
    this.#above = Int32Array.from({ length: points.length + 1 }, (_, i) => i);
    this.#below = this.#above.slice();
  }

  remove(point: number): void {
    const place = this.#places.get(point)!;
    this.#above[place] = place + 1;
    this.#below[place + 1] = place;
  }

  /** Visits points from a height outward until the rest differ from it by more than the last visit wanted. */
  visit(height: number, visitor: (point: number) => number): void {
    const heights = this.#heights;
    const first = this.#firstFrom(height);
    let above = nextLeft(this.#above, first);
    let below = nextLeft(this.#below, first) - 1;
    let wanted = Number.POSITIVE_INFINITY;
    for (;;) {
      const up = above < heights.length ? heights[above]! - height : Number.POSITIVE_INFINITY;
      const down = below >= 0 ? height - heights[below]! : Number.POSITIVE_INFINITY;
      const next = Math.min(up, down);
      // Written so that a height that is no number ends the visit too.
      if (!(next < Number.POSITIVE_INFINITY && next <= wanted * (1 + ROUNDING) + ROUNDING)) return;
      if (up <= down) {
        wanted = visitor(this.#points[above]!);
        above = nextLeft(this.#above, above + 1);
      } else {
        wanted = visitor(this.#points[below]!);
        below = nextLeft(this.#below, below) - 1;
      }
    }
  }

  /** The first place not below a height. */
  #firstFrom(height: number): number {
    let [low, high] = [0, this.#heights.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.#heights[middle]! < height) low = middle + 1;
      else high = middle;
    }
    return low;
  }
}

/** The first place from one on whose point is left; the ways there are made shorter. */
function nextLeft(next: Int32Array, from: number): number {
  let at = from;
  while (next[at] !== at) {
    next[at] = next[next[at]!]!;
    at = next[at]!;
  }
  return at;
}
