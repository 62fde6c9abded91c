import type { Problem } from '../problem.js';
import type { Surface } from '../surface/surface.js';
import { problem } from './messages.js';
import { FIELDS, type PieceGrid, type PieceList } from './readback-pieces.js';
import type { Sheet } from './readback-sheets.js';

/** Every so many mm along a line it is counted how often the cutter passes. */
const STEP_MM = 0.05;
/** Two such places one after another: at one alone a corner may lie. */
const PLACES = 2;
/** A cut that passes along a line turns no more from its direction than this, as a cosine. */
const ALONG = 0.95;

/**
 * The first stretch that is cut more often than the passes of all lines there say: going over it once more changes an
 * edge, or breaks a point. A cut counts where it passes within `tolerance` mm along the line; a line within twice that, so
 * that no line is missed whose cut counts.
 */
export function stretchFault(
  surface: Surface,
  sheets: readonly Sheet[],
  cuts: ReadonlyMap<Sheet, PieceGrid>,
  tolerance: number,
  isOver: () => boolean,
): Problem | undefined {
  const near = 2 * tolerance;
  for (const sheet of sheets) {
    const made = cuts.get(sheet)!;
    for (const { line, first, end } of sheet.expected) {
      if (line.passes === undefined) return undefined;
      let way = STEP_MM / 2;
      let found = 0;
      for (let piece = first; piece < end; piece++) {
        if (isOver()) return undefined;
        const along = directionOf(sheet.lines.pieces, piece);
        for (; way < along.length; way += STEP_MM) {
          const spot = { ...along, x: along.x + way * along.dx, y: along.y + way * along.dy };
          const times = timesPassed(made, spot, tolerance, ALONG);
          const asked = times > 1 ? passesAt(sheet, spot, near) : 1;
          const most = times > asked ? asked + passesElsewhere(surface, sheets, sheet, spot, near) : asked;
          found = times > most ? found + 1 : 0;
          if (found < PLACES) continue;
          const values = { times, passes: most, x: spot.x.toFixed(3), y: spot.y.toFixed(3) };
          return problem(
            'station.readback-stretch-again',
            line.name ?? `line at ${line.turn} degrees`,
            values,
          );
        }
        way -= along.length;
      }
    }
  }
  return undefined;
}

/** A place on a sheet, mm, and the direction in which a line goes through it. */
interface Spot {
  readonly x: number;
  readonly y: number;
  readonly dx: number;
  readonly dy: number;
}

function directionOf({ values }: PieceList, piece: number): Spot & { readonly length: number } {
  const at = FIELDS * piece;
  const [x, y] = [values[at]!, values[at + 1]!];
  const [wide, high] = [values[at + 2]! - x, values[at + 3]! - y];
  const length = Math.hypot(wide, high);
  return { x, y, length, dx: wide / length, dy: high / length };
}

/** How much the pieces weigh that pass a spot within so many mm, turned no more from its direction than a cosine says. */
function timesPassed(
  grid: PieceGrid,
  { x, y, dx, dy }: Spot,
  within: number,
  cosine: number,
  weight: (piece: number) => number = () => 1,
): number {
  const cell = grid.cellAt(x, y);
  if (cell < 0) return 0;
  const { values } = grid.pieces;
  let times = 0;
  for (let k = grid.starts[cell]!; k < grid.starts[cell + 1]!; k++) {
    const piece = grid.members[k]!;
    const at = FIELDS * piece;
    const [ax, ay] = [values[at]! - x, values[at + 1]! - y];
    const [bx, by] = [values[at + 2]! - x, values[at + 3]! - y];
    const [a, b] = [ax * dx + ay * dy, bx * dx + by * dy];
    // Of two pieces that meet just beside the spot one passes it.
    if (a <= 0 === b <= 0) continue;
    if (Math.abs(b - a) < cosine * Math.hypot(bx - ax, by - ay)) continue;
    const part = a / (a - b);
    const off = (1 - part) * (ay * dx - ax * dy) + part * (by * dx - bx * dy);
    if (Math.abs(off) <= within) times += weight(piece);
  }
  return times;
}

/** The passes of all lines of a sheet at a spot, whichever way they go. */
const passesAt = ({ lines, passes }: Sheet, spot: Spot, within: number): number =>
  timesPassed(lines, spot, within, 0, (piece) => passes[piece]!);

/** The same of all other sheets, and of this one where it lies over itself. */
function passesElsewhere(
  surface: Surface,
  sheets: readonly Sheet[],
  own: Sheet,
  { x, y, dx, dy }: Spot,
  within: number,
): number {
  const from = surface.toSurfaceNear(x, y);
  const to = surface.toSurfaceNear(x + STEP_MM * dx, y + STEP_MM * dy);
  let passes = 0;
  for (const sheet of sheets) {
    const angle = from.angle + own.turn - sheet.turn;
    const last = Math.floor((angle - sheet.angles[0]) / 360);
    for (let k = Math.ceil((angle - sheet.angles[1]) / 360); k <= last; k++) {
      const back = own.turn - sheet.turn - 360 * k;
      if (sheet === own && back === 0) continue;
      const [ax, ay] = surface.toSheet(from.z, from.angle + back);
      const [bx, by] = surface.toSheet(to.z, to.angle + back);
      const long = Math.hypot(bx - ax, by - ay);
      passes += passesAt(sheet, { x: ax, y: ay, dx: (bx - ax) / long, dy: (by - ay) / long }, within);
    }
  }
  return passes;
}
