import { type Bounds, boundsOfAll } from '../geometry/bounds.js';
import {
  atCell,
  type CellSet,
  type Cells,
  cellsAlong,
  cellsOver,
  cellsWithin,
  distancesTo,
  middleOf,
  type Pieces,
  piecesOf,
} from '../geometry/cell-grid.js';
import { lengthOf, type Polyline } from '../geometry/path.js';
import { cutWidth } from '../layout/cut-width.js';
import { CutWork } from './cut-work.js';
import type { CutBlock } from './cuts.js';
import { firmLimit, halfThread, THREAD } from './letter-shape.js';
import { type SweptMove, type SweptTool, sweptCut } from './swept-cut.js';

/** What is wrong with a drawing as the metal shows it. Parts of it are pieces of ink that hang together. */
export type SeenKind =
  /** Nothing of it is cut. */
  | 'nothing'
  /** A part is not cut, or a piece of one. */
  | 'lost'
  /** A stroke is broken through: what it parts is one, or what it joins is two. */
  | 'broken'
  /** A hole in it is cut away. */
  | 'filled'
  /** Two parts are cut into one. */
  | 'joined'
  /** An opening is cut shut, or an island is left that was not drawn. */
  | 'closed';

export interface SeenFault {
  readonly kind: SeenKind;
  /** Where on the block's sheet, mm. */
  readonly x: number;
  readonly y: number;
}

/*
 * What a person misses in a letter, as parts of its height (common practice, no source). A thing that is smaller is not
 * looked for: burrs, the round corners that a cutter leaves, and the slits between its passes are of that size.
 */
const LOST = 0.1;
const HOLE_RADIUS = 0.03;
const OPENING_RADIUS = 0.05;
const LEFT_OF_HOLE = 0.01;
/** A line that is followed is looked at as so wide: what lies nearer to it is one with it. */
const LINE_WIDTH = 0.06;
/** A part of which less than this is cut is not cut. */
const LEAST_SHARE = 0.3;

/** Cells of a window: so many to the letter's height, and so many at least to the width of a cut. */
const CELLS_OF_HEIGHT = 110;
const CELLS_OF_WIDTH = 6;
/** A narrower cut takes no finer cells. */
const NARROW = 0.05;
const MOST_CELLS = 400_000;
/** Looks at cells that sweeping one letter or drawing takes, about. */
const MOST_LOOKS = 3_000_000;

/** What the metal shows of a block. */
export interface SeenCut {
  /** In the order of their kinds, the worst of each. */
  readonly faults: readonly SeenFault[];
  /** Whether the surface is firmly cut at a place of the block's sheet, mm, to the nearest cell. */
  isCut(x: number, y: number): boolean;
}

/**
 * Sweeps the cutter along the moves that cut a block, and holds what the metal then shows against the block's drawing:
 * its area, or its lines. `height` mm is that of the letters or of the drawing.
 */
export function seenCut(
  tool: SweptTool,
  moves: readonly SweptMove[],
  block: CutBlock,
  height: number,
  work = new CutWork(),
): SeenCut {
  const width = cutWidth(tool.cutter, block.depth);
  const edges = block.area ?? block.lines.map((line) => line.points);
  if (block.lines.length === 0) return { faults: nothingOf(edges), isCut: () => false };
  // A line that is followed is cut; without its threads it is then no wider than what counts as one with it, and a hole
  // that counts keeps some of its land.
  const isNarrow = !block.area && width <= (LINE_WIDTH + 2 * THREAD) * height;
  const margin = 0.6 * width + 0.1 * height;
  const [left, bottom, right, top] = boundsOfAll(edges);
  const bounds = [left - margin, bottom - margin, right + margin, top + margin] as const;
  const cells = cellsOver(bounds, cellFor(bounds, moves, block, width, height));
  const limit = firmLimit(width, height, cells.cell);
  if (isNarrow)
    return { faults: [], isCut: lazily(cells, () => cellsAlong(cells, block.lines, width / 2 - limit)) };
  work.take(cells.columns * cells.rows, 'seenCell');
  const field = sweptCut(tool, moves, cells, block.turn, 'edges');
  work.take(field.steps, 'sweptCell');
  const cut = above(field.inside, 0);
  return {
    faults: faultsIn(cells, cut, block, width, height),
    isCut: lazily(cells, () => above(field.inside, limit)),
  };
}

/** Whether the cell at a place is in a set, which is made when it is first asked for. */
function lazily(cells: Cells, make: () => CellSet): SeenCut['isCut'] {
  let set: CellSet | undefined;
  return atCell(cells, (k) => {
    set ??= make();
    return set[k] === 1;
  });
}

function faultsIn(cells: Cells, cut: CellSet, block: CutBlock, width: number, height: number): SeenFault[] {
  const lineReach = Math.max(Math.min(width, LINE_WIDTH * height) / 2, 0.75 * cells.cell);
  const seen = block.area ? cellsWithin(cells, block.area) : cellsAlong(cells, block.lines, lineReach);
  const slit = halfThread(width, height);
  if (!isFollowedOutline(block))
    return isPlainlySeen(cells, cut, seen, height) ? [] : compareSeen(cells, cut, seen, height, slit);
  // Its counters are those of the letter, and its inner and outer line are one part.
  const ink = united(
    seen,
    cellsWithin(
      cells,
      block.lines.map((line) => line.points),
    ),
  );
  return compareSeen(cells, cut, seen, height, slit, ink).filter(({ kind }) => OF_OUTLINES.includes(kind));
}

const isFollowedOutline = ({ area, lines }: CutBlock): boolean =>
  !area && lines.every(({ closed }) => closed);

/** An outline is not read by the nooks between its serifs, and is two cuts where it has a counter. */
const OF_OUTLINES: readonly SeenKind[] = ['nothing', 'lost', 'filled', 'joined'];

function united(one: CellSet, other: CellSet): CellSet {
  const out = new Uint8Array(one.length);
  for (let k = 0; k < out.length; k++) out[k] = one[k]! | other[k]!;
  return out;
}

/** Nothing of a drawing is cut, unless there is none. */
function nothingOf(edges: readonly Polyline[]): SeenFault[] {
  const [first] = edges;
  return first && first.length > 0 ? [{ kind: 'nothing', x: first[0]!, y: first[1]! }] : [];
}

/** The width of cells, mm: as fine as letters ask for, and as coarse as the work on many and long lines allows. */
function cellFor(
  bounds: Bounds,
  moves: readonly SweptMove[],
  { lines }: CutBlock,
  width: number,
  height: number,
): number {
  const fine = Math.min(height / CELLS_OF_HEIGHT, Math.max(width, NARROW * height) / CELLS_OF_WIDTH);
  const area = (bounds[2] - bounds[0]) * (bounds[3] - bounds[1]);
  const length = lines.reduce((sum, line) => sum + lengthOf(line), 0) + moves.length * width;
  return Math.max(fine, Math.sqrt(area / MOST_CELLS), Math.sqrt((3 * length * width) / MOST_LOOKS));
}

/**
 * Whether `compareSeen` would find nothing, as it is of most letters: all of the drawing is cut, no cut meets two of its
 * parts, and in every gap of the drawing one piece of land is left, wide enough for a hole wherever it is shut in
 * (docs/swept-cut.md).
 */
export function isPlainlySeen(cells: Cells, cut: CellSet, seen: CellSet, height: number): boolean {
  if (cut[0] === 1) return false;
  for (let k = 0; k < cut.length; k++) if (seen[k] && !cut[k]) return false;
  const land = piecesOf(cells, inverse(cut), false);
  const gaps = piecesOf(cells, inverse(seen), false);
  if (land.count !== gaps.count) return false;
  const least = 2 * Math.ceil((HOLE_RADIUS * height) / cells.cell) - 1;
  const widest = widestSquares(cells, land);
  const gapOf = new Int32Array(land.count + 1);
  const taken = new Set<number>();
  for (let k = 0; k < cut.length; k++) {
    const piece = land.of[k]!;
    if (piece === 0 || gapOf[piece] !== 0) continue;
    if (piece !== land.of[0] && widest[piece]! < least) return false;
    gapOf[piece] = gaps.of[k]!;
    taken.add(gaps.of[k]!);
  }
  return taken.size === gaps.count && !meetsTwo(cells, cut, seen);
}

/** Of each piece, so many cells are the sides of the greatest square that it holds. */
function widestSquares({ columns }: Cells, { of, count }: Pieces): Int32Array {
  const widest = new Int32Array(count + 1);
  const squares = new Int32Array(of.length);
  for (let k = 0; k < of.length; k++) {
    const piece = of[k]!;
    if (piece === 0) continue;
    const isInner = k >= columns && k % columns > 0;
    squares[k] = isInner
      ? 1 + Math.min(squares[k - 1]!, squares[k - columns]!, squares[k - columns - 1]!)
      : 1;
    if (squares[k]! > widest[piece]!) widest[piece] = squares[k]!;
  }
  return widest;
}

/** Whether a piece of what is cut has two parts of the drawing in it. */
function meetsTwo(cells: Cells, cut: CellSet, seen: CellSet): boolean {
  const parts = piecesOf(cells, seen, true);
  if (parts.count < 2) return false;
  const pieces = piecesOf(cells, cut, true);
  const partOf = new Int32Array(pieces.count + 1);
  for (let k = 0; k < cut.length; k++) {
    const [piece, part] = [pieces.of[k]!, parts.of[k]!];
    if (part === 0) continue;
    if (partOf[piece] !== 0 && partOf[piece] !== part) return true;
    partOf[piece] = part;
  }
  return false;
}

/**
 * Holds what is cut against what was to be seen. Slits and threads narrower than 2 `slit` mm do not part or join. `ink`: what
 * makes the parts and holes of the drawing, where that is more than is cut of it.
 */
export function compareSeen(
  cells: Cells,
  cut: CellSet,
  seen: CellSet,
  height: number,
  slit: number,
  ink = seen,
): SeenFault[] {
  const fault = (kind: SeenKind, k: number): SeenFault => {
    const [x, y] = middleOf(cells, k);
    return { kind, x, y };
  };
  const first = seen.indexOf(1);
  if (first < 0) return [];
  if (cut.indexOf(1) < 0) return [fault('nothing', first)];
  const toCut = distancesTo(cells, cut);
  const uncut = inverse(cut);
  const intoCut = distancesTo(cells, uncut);
  // Cuts with slits closed, and cuts without threads.
  const closed = inverse(above(toCut, slit));
  const firm = above(intoCut, slit);
  const parts = piecesOf(cells, ink, true);
  const found: SeenFault[] = [];
  const add = (kind: SeenKind, k: number | undefined) => {
    if (k !== undefined && !found.some((one) => one.kind === kind)) found.push(fault(kind, k));
  };
  add('lost', lostAt(seen, toCut, height) ?? (ink === seen ? uncutPart(parts, closed) : undefined));

  const gaps = piecesOf(cells, inverse(ink), false);
  const outside = gaps.of[0]!;
  const toInk = distancesTo(cells, ink);
  const holes = wideHoles(gaps, outside, toInk, HOLE_RADIUS * height);
  const left = piecesOf(cells, inverse(closed), false);
  add(
    'broken',
    partInTwo(cells, parts, closed, seen, (HOLE_RADIUS * height) / cells.cell) ?? leak(holes, outside, left),
  );
  for (const [hole, deepest] of holes) {
    let most = 0;
    for (let k = 0; k < gaps.of.length; k++) if (gaps.of[k] === hole && toCut[k]! > most) most = toCut[k]!;
    if (most < LEFT_OF_HOLE * height) add('filled', deepest);
  }
  add('joined', joinedAt(cells, firm, parts, (HOLE_RADIUS * height) / cells.cell));
  add('closed', closedAt(cells, firm, gaps, holes, height));
  return found;
}

function inverse(set: CellSet): CellSet {
  const out = new Uint8Array(set.length);
  for (let k = 0; k < set.length; k++) out[k] = 1 - set[k]!;
  return out;
}

/** The cells whose values are above a limit. */
function above(values: Float32Array | Float64Array, limit: number): CellSet {
  const out = new Uint8Array(values.length);
  for (let k = 0; k < values.length; k++) if (values[k]! > limit) out[k] = 1;
  return out;
}

/** The place of the drawing farthest from any cut, where that is too far. */
function lostAt(seen: CellSet, toCut: Float64Array, height: number): number | undefined {
  let worst: number | undefined;
  let most = LOST * height;
  for (let k = 0; k < seen.length; k++)
    if (seen[k] && toCut[k]! > most) {
      most = toCut[k]!;
      worst = k;
    }
  return worst;
}

/** A place in a part of the drawing of which next to nothing is cut. */
function uncutPart(parts: Pieces, cut: CellSet): number | undefined {
  const all = new Float64Array(parts.count + 1);
  const taken = new Float64Array(parts.count + 1);
  const first = new Int32Array(parts.count + 1).fill(-1);
  for (let k = 0; k < cut.length; k++) {
    const part = parts.of[k]!;
    if (part === 0) continue;
    if (all[part] === 0) first[part] = k;
    all[part]!++;
    taken[part]! += cut[k]!;
  }
  for (let part = 1; part <= parts.count; part++)
    if (taken[part]! < LEAST_SHARE * all[part]!) return first[part];
  return undefined;
}

/** The holes in a drawing that hold a disc, by number, each with the middle of its widest. */
function wideHoles(gaps: Pieces, outside: number, toSeen: Float64Array, radius: number): Map<number, number> {
  const widest = new Map<number, number>();
  for (let k = 0; k < gaps.of.length; k++) {
    const gap = gaps.of[k]!;
    if (gap === 0 || gap === outside || toSeen[k]! < radius) continue;
    const before = widest.get(gap);
    if (before === undefined || toSeen[k]! > toSeen[before]!) widest.set(gap, k);
  }
  return widest;
}

/** A part of which two pieces of more than `least` squared cells are cut, with nothing cut between them. */
function partInTwo(
  cells: Cells,
  parts: Pieces,
  cut: CellSet,
  seen: CellSet,
  least: number,
): number | undefined {
  const pieces = piecesOf(cells, cut, true);
  const shares = sharedCells(parts, pieces, seen);
  for (const [part, by] of shares) {
    const large = [...by].filter(([, { count }]) => count > least * least);
    if (part > 0 && large.length > 1) return large.sort((a, b) => a[1].count - b[1].count)[0]![1].first;
  }
  return undefined;
}

/** By number in one set of pieces, with how many cells each number of another has in it, and the first of them. */
type Shares = Map<number, Map<number, { count: number; readonly first: number }>>;

function sharedCells(one: Pieces, other: Pieces, within: CellSet): Shares {
  const shares: Shares = new Map();
  for (let k = 0; k < within.length; k++) {
    const [a, b] = [one.of[k]!, other.of[k]!];
    if (!within[k] || a === 0 || b === 0) continue;
    const by = shares.get(a) ?? new Map<number, { count: number; readonly first: number }>();
    shares.set(a, by);
    const share = by.get(b);
    if (share) share.count++;
    else by.set(b, { count: 1, first: k });
  }
  return shares;
}

/** A hole from which land that is left leads out of the drawing or into another hole. */
function leak(holes: ReadonlyMap<number, number>, outside: number, left: Pieces): number | undefined {
  const owner = new Map<number, number>([[left.of[0]!, outside]]);
  for (const [hole, deepest] of holes) {
    const land = left.of[deepest]!;
    if (land === 0) continue;
    const other = owner.get(land);
    if (other !== undefined && other !== hole) return deepest;
    owner.set(land, hole);
  }
  return undefined;
}

/** A place of one part that is cut in one piece with another. */
function joinedAt(cells: Cells, firm: CellSet, parts: Pieces, least: number): number | undefined {
  if (parts.count < 2) return undefined;
  const pieces = piecesOf(cells, firm, true);
  for (const by of sharedCells(pieces, parts, firm).values()) {
    const met = [...by.values()].filter(({ count }) => count > (least * least) / 4);
    if (met.length > 1) return met.sort((a, b) => a.count - b.count)[0]!.first;
  }
  return undefined;
}

/** The middle of land that is cut off from all round it, wide enough to be seen, where the drawing has no hole. */
function closedAt(
  cells: Cells,
  firm: CellSet,
  gaps: Pieces,
  holes: ReadonlyMap<number, number>,
  height: number,
): number | undefined {
  const land = piecesOf(cells, inverse(firm), false);
  const toFirm = distancesTo(cells, firm);
  const known = new Set<number>([land.of[0]!]);
  for (let k = 0; k < land.of.length; k++) if (holes.has(gaps.of[k]!)) known.add(land.of[k]!);
  let worst: number | undefined;
  for (let k = 0; k < land.of.length; k++) {
    const piece = land.of[k]!;
    if (piece === 0 || known.has(piece) || toFirm[k]! < OPENING_RADIUS * height) continue;
    if (worst === undefined || toFirm[k]! > toFirm[worst]!) worst = k;
  }
  return worst;
}
