import { shortTour } from './tour.js';
import type { DistanceBetween, Tour } from './tour-search.js';

/** Where a line can begin and end: x, y pairs. */
export interface Stop {
  /** A closed line ends where it begins, at any one of these; an open one runs from the first to the last. */
  readonly places: Float64Array;
  readonly closed: boolean;
}

/** How places lie to one another. */
export interface Metric {
  /** The distance in the air between two places, mm. */
  distance(x0: number, y0: number, x1: number, y1: number): number;
  /** A height, mm: no two places are nearer than their heights differ. */
  height(x: number, y: number): number;
}

/** One stop of an order: the place where it begins, and whether it runs backwards. */
export interface Visit {
  readonly stop: number;
  readonly turned: boolean;
  readonly start: number;
}

/** How often the search is repeated with the starts that the last round chose. */
const ROUNDS = 3;
const MOST_SWEEPS = 10;

export interface OrderSearch {
  readonly metric: Metric;
  /** Open lines may be turned round. */
  readonly eitherWay: boolean;
  /** Distances that all rounds may ask for. */
  readonly mostSteps: number;
  /** Called with the number of distances that each round asked for. */
  readonly countSteps?: ((steps: number) => void) | undefined;
}

/** Orders stops so that the moves in the air between them are short. Equal stops give an equal order. */
export function optimizeOrder(stops: readonly Stop[], search: OrderSearch): Visit[] {
  const { metric, mostSteps, countSteps } = search;
  let left = mostSteps;
  const starts = stops.map(() => 0);
  const loops = stops.some((s) => s.closed && s.places.length > 2);
  let best: Visit[] = [];
  let least = Number.POSITIVE_INFINITY;
  for (let round = 0; round < (loops ? ROUNDS : 1) && left > 0; round++) {
    const tour = tourOf(stops, starts, search, left);
    left -= tour.steps;
    countSteps?.(tour.steps);
    if (loops) optimizeStarts(stops, starts, tour, metric);
    const order = Array.from(tour.order, (stop, i) => ({
      stop,
      turned: tour.turned[i] === 1 && !stops[stop]!.closed,
      start: starts[stop]!,
    }));
    const air = airOf(stops, order, metric);
    if (air >= least) break;
    [best, least] = [order, air];
  }
  return best;
}

/** The length of the moves in the air of an order, mm. */
export function airOf(stops: readonly Stop[], order: readonly Visit[], metric: Metric): number {
  let sum = 0;
  for (let i = 1; i < order.length; i++) {
    const [x0, y0] = placeOf(stops, order[i - 1]!, true);
    const [x1, y1] = placeOf(stops, order[i]!, false);
    sum += metric.distance(x0, y0, x1, y1);
  }
  return sum;
}

function placeOf(stops: readonly Stop[], { stop, turned, start }: Visit, leaving: boolean): [number, number] {
  const { places, closed } = stops[stop]!;
  const at = closed ? 2 * start : turned === leaving ? 0 : places.length - 2;
  return [places[at]!, places[at + 1]!];
}

function tourOf(
  stops: readonly Stop[],
  starts: readonly number[],
  { metric, eitherWay }: OrderSearch,
  mostSteps: number,
): Tour {
  const xy = new Float64Array(4 * stops.length);
  stops.forEach(({ places, closed }, i) => {
    const from = closed ? 2 * starts[i]! : 0;
    const to = closed ? from : places.length - 2;
    xy.set([places[from]!, places[from + 1]!, places[to]!, places[to + 1]!], 4 * i);
  });
  const distanceBetween = (p: number, q: number) =>
    metric.distance(xy[2 * p]!, xy[2 * p + 1]!, xy[2 * q]!, xy[2 * q + 1]!);
  const lines = {
    count: stops.length,
    distanceBetween: cacheDistances(2 * stops.length, distanceBetween),
    eitherWay,
    heightOf: (p: number) => metric.height(xy[2 * p]!, xy[2 * p + 1]!),
  };
  return shortTour(lines, mostSteps);
}

/** The search asks for the same distances many times: those of up to so many points are computed once. */
const MOST_KNOWN = 1500;

function cacheDistances(points: number, distanceBetween: DistanceBetween): DistanceBetween {
  if (points > MOST_KNOWN) return distanceBetween;
  const table = new Float64Array(points * points);
  for (let p = 0; p < points; p++) {
    for (let q = 0; q < p; q++) {
      const d = distanceBetween(p, q);
      table[p * points + q] = d;
      table[q * points + p] = d;
    }
  }
  return (p, q) => table[p * points + q]!;
}

/** Starts every closed line where the moves from the line before and to the line after are shortest, until nothing gains. */
function optimizeStarts(
  stops: readonly Stop[],
  starts: number[],
  { order, turned }: Tour,
  metric: Metric,
): void {
  const visit = (i: number): Visit => ({
    stop: order[i]!,
    turned: turned[i] === 1 && !stops[order[i]!]!.closed,
    start: starts[order[i]!]!,
  });
  for (let sweep = 0, shifted = true; shifted && sweep < MOST_SWEEPS; sweep++) {
    shifted = false;
    for (let i = 0; i < order.length; i++) {
      const { places, closed } = stops[order[i]!]!;
      if (!closed) continue;
      const before = i > 0 ? placeOf(stops, visit(i - 1), true) : undefined;
      const after = i < order.length - 1 ? placeOf(stops, visit(i + 1), false) : undefined;
      const through = (k: number): number => {
        const [x, y] = [places[2 * k]!, places[2 * k + 1]!];
        return (
          (before ? metric.distance(...before, x, y) : 0) + (after ? metric.distance(x, y, ...after) : 0)
        );
      };
      let pick = starts[order[i]!]!;
      let least = through(pick);
      for (let k = 0; k < places.length / 2; k++) {
        const d = through(k);
        if (d < least - 1e-9) [pick, least] = [k, d];
      }
      if (pick !== starts[order[i]!]) shifted = true;
      starts[order[i]!] = pick;
    }
  }
}
