import { type DistanceBetween, type Lines, Search, type Tour } from './tour-search.js';

/** Kicks for each line, and the fewest and most in all: more would find little more. */
const KICKS_PER_LINE = 12;
const LEAST_KICKS = 200;
const MOST_KICKS = 6000;

/** The search asks for no more distances than this; then it keeps the best order so far. */
export const MOST_STEPS = 100_000_000;
/** More lines than this are searched in parts, in the order in which they come: the start alone takes n^2 distances. */
const MOST_AT_ONCE = 4000;

/**
 * Finds an order of many lines, and the end from which each runs, so that the moves in the air are short. A greedy start, then 2-opt and Or-opt over near neighbours, then small kicks that are kept when they help
 * (Croes 1958; Or 1976; Martin, Otto and Felten 1991; from memory). The kicks come from a fixed sequence, so the same
 * lines always give the same order.
 */
export function shortTour(lines: Lines, mostSteps = MOST_STEPS): Tour {
  if (lines.count <= MOST_AT_ONCE) return searchTour(lines, mostSteps);
  const parts = Math.ceil(lines.count / MOST_AT_ONCE);
  const tours = Array.from({ length: parts }, (_, k) => {
    const from = Math.floor((k * lines.count) / parts);
    const to = Math.floor(((k + 1) * lines.count) / parts);
    const distanceBetween: DistanceBetween = (p, q) => lines.distanceBetween(p + 2 * from, q + 2 * from);
    const heightOf = (p: number) => lines.heightOf(p + 2 * from);
    const part = { ...lines, count: to - from, distanceBetween, heightOf };
    const tour = searchTour(part, Math.floor(mostSteps / parts));
    return { ...tour, order: tour.order.map((line) => line + from) };
  });
  return joinTours(tours, lines.distanceBetween);
}

function searchTour(lines: Lines, mostSteps: number): Tour {
  const n = lines.count;
  if (n < 2) return { order: new Int32Array(n), turned: new Uint8Array(n), air: 0, steps: 0 };
  const search = new Search(lines, mostSteps);
  search.greedy();
  search.improveAll();
  search.kicks(Math.min(MOST_KICKS, Math.max(LEAST_KICKS, KICKS_PER_LINE * n)));
  return search.tour();
}

/** Tours one after another. A line is entered at point 2i, or at 2i + 1 when it is turned. */
function joinTours(tours: readonly Tour[], distanceBetween: DistanceBetween): Tour {
  const order = Int32Array.from(tours.flatMap((tour) => [...tour.order]));
  const turned = Uint8Array.from(tours.flatMap((tour) => [...tour.turned]));
  let air = 0;
  for (let i = 1; i < order.length; i++)
    air += distanceBetween(2 * order[i - 1]! + 1 - turned[i - 1]!, 2 * order[i]! + turned[i]!);
  return { order, turned, air, steps: tours.reduce((sum, tour) => sum + tour.steps, 0) };
}
