import type { Surface } from '../surface/surface.js';
import { toRad } from '../units.js';
import type { ReadStep, Tip } from './readback.js';
import { PieceGrid, PieceList } from './readback-pieces.js';
import type { StepCounter } from './reader-budget.js';

/** A line that was to be cut. */
export interface ExpectedLine {
  /** What a person would call it. */
  readonly name?: string;
  /** The part angle, degrees, on the y axis of the line's sheet. */
  readonly turn: number;
  /** x, y pairs on that sheet, mm. */
  readonly points: Float64Array;
  readonly closed: boolean;
  /** Along the surface normal, mm. */
  readonly depth: number;
  /** Depth at each point, mm, where it changes along the line. */
  readonly depths?: Float64Array | undefined;
  /** How many times the cutter goes along it; not looked at where it is left out. */
  readonly passes?: number;
}

/** Every expected line that shares one turn, and the stretch of surface they take. */
export interface Sheet {
  readonly turn: number;
  readonly lines: PieceGrid;
  /** How many times the cutter goes along each piece of `lines`. */
  readonly passes: readonly number[];
  /** Each line with its pieces: those of `lines` from `first` up to `end`. */
  readonly expected: readonly { readonly line: ExpectedLine; readonly first: number; readonly end: number }[];
  /** Least and greatest angle on the sheet, degrees, with room for a cut that is a little off. */
  readonly angles: readonly [number, number];
  /** Least and greatest z, mm, with the same room. */
  readonly span: readonly [number, number];
}

/** Room around a sheet's lines in which a cut is still measured against them. */
const ROOM_DEG = 2;
const ROOM_MM = 0.5;

export function sheetsOf(
  surface: Surface,
  lines: readonly ExpectedLine[],
  reach: number,
  counter: StepCounter,
): Sheet[] {
  const turns = new Map<number, ExpectedLine[]>();
  for (const line of lines) {
    const same = turns.get(line.turn);
    if (same) same.push(line);
    else turns.set(line.turn, [line]);
  }
  return [...turns].map(([turn, same]) => sheetOf(surface, turn, same, reach, counter));
}

function sheetOf(
  surface: Surface,
  turn: number,
  lines: readonly ExpectedLine[],
  reach: number,
  counter: StepCounter,
): Sheet {
  const pieces = new PieceList();
  const passes: number[] = [];
  let angles: [number, number] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  let span: [number, number] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  const expected = lines.map((line) => {
    const { points, closed, depth, depths } = line;
    const count = points.length / 2;
    const first = pieces.count;
    for (let k = 0; k < count; k++) {
      const place = surface.toSurfaceNear(points[2 * k]!, points[2 * k + 1]!);
      angles = [Math.min(angles[0], place.angle), Math.max(angles[1], place.angle)];
      span = [Math.min(span[0], place.z), Math.max(span[1], place.z)];
      if (k === count - 1 && !closed) break;
      const next = 2 * ((k + 1) % count);
      const [x0, y0, x1, y1] = [points[2 * k]!, points[2 * k + 1]!, points[next]!, points[next + 1]!];
      pieces.add(x0, y0, x1, y1, depths?.[k] ?? depth, depths?.[next / 2] ?? depth);
      passes.push(line.passes ?? 0);
    }
    return { line, first, end: pieces.count };
  });
  return {
    turn,
    lines: new PieceGrid(pieces, reach, counter),
    passes,
    expected,
    angles: [angles[0] - ROOM_DEG, angles[1] + ROOM_DEG],
    span: [span[0] - ROOM_MM, span[1] + ROOM_MM],
  };
}

/** Degrees to take from a step's angles, whole turns and all, for each way it can lie on a sheet. */
export function shiftsOnto(sheet: Sheet, { from, to }: ReadStep): number[] {
  if (Math.max(from.z, to.z) < sheet.span[0] || Math.min(from.z, to.z) > sheet.span[1]) return [];
  const low = Math.min(from.angle, to.angle) - sheet.turn;
  const high = Math.max(from.angle, to.angle) - sheet.turn;
  const shifts: number[] = [];
  const last = Math.floor((high - sheet.angles[0]) / 360);
  for (let k = Math.ceil((low - sheet.angles[1]) / 360); k <= last; k++) shifts.push(sheet.turn + 360 * k);
  return shifts;
}

/** A chord on a cone's sheet is kept this near the path it stands for, mm. */
const CHORD_MM = 0.0001;

/** Adds a cut move on a sheet: straight in z and angle, so on a cone a bent line, given as chords. */
export function layStep(surface: Surface, step: ReadStep, shift: number, pieces: PieceList): void {
  const { from, to } = step;
  const sheet = (t: number) =>
    surface.toSheet(from.z + t * (to.z - from.z), from.angle + t * (to.angle - from.angle) - shift);
  const stays = from.z === to.z && from.angle === to.angle;
  const count = stays || surface.kind === 'cylinder' ? 1 : chords(sheet, from, to);
  const depth = (t: number) => from.depth + t * (to.depth - from.depth);
  let [x0, y0] = sheet(0);
  for (let k = 1; k <= count; k++) {
    const [x1, y1] = sheet(k / count);
    const [a, b] = [depth((k - 1) / count), depth(k / count)];
    // Where it only goes down, the place is cut as deep as it ends.
    const deepest = Math.max(a, b);
    pieces.add(x0, y0, x1, y1, stays ? deepest : a, stays ? deepest : b);
    [x0, y0] = [x1, y1];
  }
}

function chords(sheet: (t: number) => readonly [number, number], from: Tip, to: Tip): number {
  const [ax, ay] = sheet(0);
  const [bx, by] = sheet(1);
  const [mx, my] = sheet(0.5);
  const bulge = Math.hypot(mx - (ax + bx) / 2, my - (ay + by) / 2);
  const byTurn = Math.abs(toRad(to.angle - from.angle)) / toRad(10);
  return Math.max(1, Math.ceil(Math.sqrt(bulge / CHORD_MM)), Math.ceil(byTurn));
}
