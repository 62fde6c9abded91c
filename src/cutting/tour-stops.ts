import { shortTour } from './tour.js';
import type { DistanceBetween, Tour } from './tour-search.js';

/** Where a line can begin and end: x, y pairs. */
export interface Stop {
  /** A closed line ends where it begins, at any one of these; an open one runs from the first to the last. */
  readonly places: Float64Array;
  readonly closed: boolean;
}

/** The distance in the air between two places, mm. */
export type Metric = (x0: number, y0: number, x1: number, y1: number) => number;

/** One stop of an order: the place where it begins, and whether it runs backwards. */
export interface Visit {
  readonly stop: number;
  readonly turned: boolean;
  readonly start: number;
}

/** How often the search is repeated with the starts that the last round chose. */
const ROUNDS = 3;
const MOST_SWEEPS = 10;

/** Orders stops so that the moves in the air between them are short. Equal stops give an equal order. */
export function optimizeOrder(
  stops: readonly Stop[],
  metric: Metric,
  eitherWay: boolean,
  countSteps?: (steps: number) => void,
): Visit[] {
  const starts = stops.map(() => 0);
  const loops = stops.some((s) => s.closed && s.places.length > 2);
  let best: Visit[] = [];
  let least = Number.POSITIVE_INFINITY;
  for (let round = 0; round < (loops ? ROUNDS : 1); round++) {
    const tour = tourOf(stops, starts, metric, eitherWay);
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
    sum += metric(x0, y0, x1, y1);
  }
  return sum;
}

function placeOf(stops: readonly Stop[], { stop, turned, start }: Visit, leaving: boolean): [number, number] {
  const { places, closed } = stops[stop]!;
  const at = closed ? 2 * start : turned === leaving ? 0 : places.length - 2;
  return [places[at]!, places[at + 1]!];
}

function tourOf(stops: readonly Stop[], starts: readonly number[], metric: Metric, eitherWay: boolean): Tour {
  const xy = new Float64Array(4 * stops.length);
  stops.forEach(({ places, closed }, i) => {
    const from = closed ? 2 * starts[i]! : 0;
    const to = closed ? from : places.length - 2;
    xy.set([places[from]!, places[from + 1]!, places[to]!, places[to + 1]!], 4 * i);
  });
  const distanceBetween = (p: number, q: number) =>
    metric(xy[2 * p]!, xy[2 * p + 1]!, xy[2 * q]!, xy[2 * q + 1]!);
  return shortTour({
    count: stops.length,
    distanceBetween: cacheDistances(2 * stops.length, distanceBetween),
    eitherWay,
  });
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
        return (before ? metric(...before, x, y) : 0) + (after ? metric(x, y, ...after) : 0);
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
