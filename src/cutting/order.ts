import { CutWork } from './cut-work.js';
import type { CutBlock, CutLine } from './cuts.js';
import { reverseLine, startAt } from './tour-lines.js';
import { type Metric, optimizeOrder } from './tour-stops.js';

export { type OrderOptions, orderTour } from './tour-blocks.js';

/** Up to so many lines the nearest end next is near the best; a letter has fewer, and keeps its first stroke first. */
const FEW = 12;

/**
 * Lines of one sheet in the order that shortens the air moves between them. Open lines may be turned round, unless their direction is kept; of many
 * lines closed ones may begin at any point.
 */
export function orderLines(
  lines: readonly CutLine[],
  keepDirection = false,
  work = new CutWork(),
): CutLine[] {
  return lines.length > FEW ? shortOrder(lines, keepDirection, work) : greedyOrder(lines, keepDirection);
}

/** On one sheet. */
const FLAT: Metric = {
  distance: (x0, y0, x1, y1) => Math.sqrt((x1 - x0) * (x1 - x0) + (y1 - y0) * (y1 - y0)),
  height: (_, y) => y,
};
/** The search for the order of the lines of one drawing, of which a piece has many, asks for so many distances and more by the square of its lines. */
const LEAST_STEPS = 1_000_000;
const STEPS_OF_SQUARE = 4;

function shortOrder(lines: readonly CutLine[], keepDirection: boolean, work: CutWork): CutLine[] {
  const stops = lines.map(({ points, closed }) => ({ places: points, closed }));
  const mostSteps = LEAST_STEPS + STEPS_OF_SQUARE * lines.length ** 2;
  const countSteps = (steps: number) => work.take(steps, 'distance');
  const search = { metric: FLAT, eitherWay: !keepDirection, mostSteps, countSteps };
  return optimizeOrder(stops, search).map(({ stop, turned, start }) => {
    const line = lines[stop]!;
    return turned ? reverseLine(line) : start > 0 ? startAt(line, start) : line;
  });
}

/** From the first drawn, always the nearest end next, an open line reversed where its far end is nearer. */
function greedyOrder(lines: readonly CutLine[], keepDirection: boolean): CutLine[] {
  const left = [...lines];
  const ordered: CutLine[] = [];
  let at: readonly [number, number] | undefined;
  while (left.length > 0) {
    let pick = 0;
    let reversed = false;
    let least = Number.POSITIVE_INFINITY;
    if (at) {
      for (const [i, line] of left.entries()) {
        const p = line.points;
        const toStart = Math.hypot(p[0]! - at[0], p[1]! - at[1]);
        const toEnd = Math.hypot(p[p.length - 2]! - at[0], p[p.length - 1]! - at[1]);
        const isReversed = !line.closed && !keepDirection && toEnd < toStart;
        const d = isReversed ? toEnd : toStart;
        if (d < least) {
          least = d;
          pick = i;
          reversed = isReversed;
        }
      }
    }
    const [line] = left.splice(pick, 1);
    const next = reversed ? reverseLine(line!) : line!;
    ordered.push(next);
    const p = next.points;
    at = next.closed ? [p[0]!, p[1]!] : [p[p.length - 2]!, p[p.length - 1]!];
  }
  return ordered;
}

/**
 * Marks in the order that turns and slides the part least: from the one nearest the index line and the datum end,
 * always the nearest next. Within a mark blocks stay in reading order, which for a line of text is the short way.
 */
export function orderMarks(marks: readonly (readonly CutBlock[])[]): CutBlock[] {
  const left = marks.filter((m) => m.length > 0);
  const ordered: CutBlock[] = [];
  let turn = 0;
  let y = 0;
  while (left.length > 0) {
    let pick = 0;
    let least = Number.POSITIVE_INFINITY;
    for (const [i, mark] of left.entries()) {
      const d = Math.hypot((mark[0]!.turn - turn) * DEG_AS_MM, (mark[0]!.lines[0]!.points[1] ?? 0) - y);
      if (d < least) {
        least = d;
        pick = i;
      }
    }
    const [mark] = left.splice(pick, 1);
    ordered.push(...mark!);
    const last = mark![mark!.length - 1]!;
    turn = last.turn;
    y = last.lines[0]!.points[1]!;
  }
  return ordered;
}

/** About how far a degree goes on a barrel, mm: only to weigh turning against sliding. */
const DEG_AS_MM = 0.1;
