import { type Apart, shortTour, type Tour } from './tour.js';

/** Where a line can be begun and left: x, y pairs. */
export interface Stop {
  /** A closed line is left where it is begun, at any one of these; an open one runs from the first to the last. */
  readonly places: Float64Array;
  readonly closed: boolean;
}

/** The way in the air between two places, mm. */
export type Far = (x0: number, y0: number, x1: number, y1: number) => number;

/** One line of a way through all of them: begun at which of its places, and whether it is turned round. */
export interface Visit {
  readonly stop: number;
  readonly turned: boolean;
  readonly start: number;
}

/** Times the order is sought again for the starts that the last one chose. */
const ROUNDS = 3;
const MOST_SWEEPS = 10;

/** The short way through all stops. Equal stops give an equal way. */
export function shortWay(stops: readonly Stop[], far: Far, eitherWay: boolean): Visit[] {
  const starts = stops.map(() => 0);
  const loops = stops.some((s) => s.closed && s.places.length > 2);
  let best: Visit[] = [];
  let least = Number.POSITIVE_INFINITY;
  for (let round = 0; round < (loops ? ROUNDS : 1); round++) {
    const tour = tourOf(stops, starts, far, eitherWay);
    if (loops) startNear(stops, starts, tour, far);
    const way = Array.from(tour.order, (stop, i) => ({
      stop,
      turned: tour.turned[i] === 1 && !stops[stop]!.closed,
      start: starts[stop]!,
    }));
    const air = airOf(stops, way, far);
    if (air >= least) break;
    [best, least] = [way, air];
  }
  return best;
}

/** The moves in the air of a way, mm. */
export function airOf(stops: readonly Stop[], way: readonly Visit[], far: Far): number {
  let sum = 0;
  for (let i = 1; i < way.length; i++) {
    const [x0, y0] = placeOf(stops, way[i - 1]!, true);
    const [x1, y1] = placeOf(stops, way[i]!, false);
    sum += far(x0, y0, x1, y1);
  }
  return sum;
}

function placeOf(stops: readonly Stop[], { stop, turned, start }: Visit, leaving: boolean): [number, number] {
  const { places, closed } = stops[stop]!;
  const at = closed ? 2 * start : turned === leaving ? 0 : places.length - 2;
  return [places[at]!, places[at + 1]!];
}

function tourOf(stops: readonly Stop[], starts: readonly number[], far: Far, eitherWay: boolean): Tour {
  const xy = new Float64Array(4 * stops.length);
  stops.forEach(({ places, closed }, i) => {
    const from = closed ? 2 * starts[i]! : 0;
    const to = closed ? from : places.length - 2;
    xy.set([places[from]!, places[from + 1]!, places[to]!, places[to + 1]!], 4 * i);
  });
  const apart = (p: number, q: number) => far(xy[2 * p]!, xy[2 * p + 1]!, xy[2 * q]!, xy[2 * q + 1]!);
  return shortTour({ count: stops.length, apart: known(2 * stops.length, apart), eitherWay });
}

/** The search asks the same distances many times: those of so many points are worked out once. */
const MOST_KNOWN = 1500;

function known(points: number, apart: Apart): Apart {
  if (points > MOST_KNOWN) return apart;
  const table = new Float64Array(points * points);
  for (let p = 0; p < points; p++) {
    for (let q = 0; q < p; q++) {
      const d = apart(p, q);
      table[p * points + q] = d;
      table[q * points + p] = d;
    }
  }
  return (p, q) => table[p * points + q]!;
}

/** Begins every closed line where the way from the line before it to the one after is shortest, until none gains. */
function startNear(stops: readonly Stop[], starts: number[], { order, turned }: Tour, far: Far): void {
  const visit = (i: number): Visit => ({
    stop: order[i]!,
    turned: turned[i] === 1 && !stops[order[i]!]!.closed,
    start: starts[order[i]!]!,
  });
  for (let sweep = 0, moved = true; moved && sweep < MOST_SWEEPS; sweep++) {
    moved = false;
    for (let i = 0; i < order.length; i++) {
      const { places, closed } = stops[order[i]!]!;
      if (!closed) continue;
      const before = i > 0 ? placeOf(stops, visit(i - 1), true) : undefined;
      const after = i < order.length - 1 ? placeOf(stops, visit(i + 1), false) : undefined;
      const through = (k: number): number => {
        const [x, y] = [places[2 * k]!, places[2 * k + 1]!];
        return (before ? far(...before, x, y) : 0) + (after ? far(x, y, ...after) : 0);
      };
      let pick = starts[order[i]!]!;
      let least = through(pick);
      for (let k = 0; k < places.length / 2; k++) {
        const d = through(k);
        if (d < least - 1e-9) [pick, least] = [k, d];
      }
      if (pick !== starts[order[i]!]) moved = true;
      starts[order[i]!] = pick;
    }
  }
}
