import { type Bounds, boundsOfAll, boundsOfPaths, growBounds } from '../geometry/bounds.js';
import { atCell, type CellSet, type Cells, cellsOver, middleOf, piecesOf } from '../geometry/cell-grid.js';
import { flatten } from '../geometry/flatten.js';
import { cutWidth } from '../layout/cut-width.js';
import { placeGlyph, type TextDirection } from '../layout/glyph-placement.js';
import type { ShapedLine } from '../lettering/shaped-line.js';
import type { Place } from '../surface/surface.js';
import { FLATTEN_TOLERANCE_MM, toRad } from '../units.js';
import { CutWork } from './cut-work.js';
import {
  type KnownLetter,
  KnownLetters,
  type LetterDrawing,
  LIKE,
  LOOK_ALIKES,
  nearestLetter,
} from './known-letters.js';
import { CELLS_OF_HEIGHT, firmLimit, letterShape } from './letter-shape.js';
import { type SweptMove, type SweptTool, sweptCut } from './swept-cut.js';

/** How the letters of texts are set and cut. */
export interface Lettering extends Omit<LetterDrawing, 'width'> {
  readonly direction: TextDirection;
  readonly depth: number;
}

/** In place of what is no letter. */
const NO_LETTER = '?';

/** What lies farther beside where a letter was to be than this part of its height is not of the text. */
const BESIDE = 0.06;
/** As many pieces make a letter at the most: the per mille sign has five, and nothing else in numbers more than three. */
const MOST_PIECES = 5;
/** Pieces of fewer cells are burrs. */
const BURR_CELLS = 4;

/**
 * Reads what a person reads where texts of one lettering were to be: sweeps the moves over the surface, parts what is cut into
 * pieces from the left to the right, and holds each against what each character would show. Of a text only its place, size and
 * font are asked for.
 */
export class TextReader {
  readonly #tool: SweptTool;
  readonly #lettering: Lettering;
  readonly #known: KnownLetters;

  constructor(tool: SweptTool, lettering: Lettering) {
    this.#tool = tool;
    this.#lettering = lettering;
    this.#known = new KnownLetters({ ...lettering, width: cutWidth(tool.cutter, lettering.depth) });
  }

  /** Blanks are left out; `?` stands for what is like none of the characters. */
  read(moves: readonly SweptMove[], line: ShapedLine, at: Place, work = new CutWork()): string {
    const strip = stripOf(this.#tool, moves, { ...this.#lettering, line, at }, work);
    const known = new Map(this.#known.ofEach(LOOK_ALIKES, work).map((one) => [one.character, one]));
    for (const { character, glyph } of line.glyphs) {
      const own = this.#known.of(character, glyph, work);
      if (own) known.set(character, own);
    }
    return wordOf(strip.cells, letterPieces(strip), [...known.values()], this.#lettering.size);
  }
}

/** A line of a lettering, and where its middle is. */
interface TextOnSurface extends Lettering {
  readonly line: ShapedLine;
  readonly at: Place;
}

/** What is cut along a text, its baseline laid straight: x from its middle, y up from the baseline, mm. */
interface Strip {
  readonly cells: Cells;
  readonly set: CellSet;
}

function stripOf(tool: SweptTool, moves: readonly SweptMove[], text: TextOnSurface, work: CutWork): Strip {
  const { size, line, at, direction } = text;
  const { surface } = tool;
  const width = cutWidth(tool.cutter, text.depth);
  const beside = width / 2 + BESIDE * size;
  const drawn = line.glyphs
    .filter(({ glyph }) => glyph.path.length > 0)
    .map(({ glyph, x }) => {
      const [left, bottom, right, top] = boundsOfPaths(flatten(glyph.path, size, FLATTEN_TOLERANCE_MM));
      const from = (x - line.width / 2) * size;
      return growBounds([from + left, bottom, from + right, top], beside);
    });
  const box = boundsOfAll(drawn.map((one) => Float64Array.from(one)));
  const cells = cellsOver(box, size / CELLS_OF_HEIGHT);
  // A pattern may lie close by, over a full stop too.
  const isOfText = (k: number): boolean => {
    const [x, y] = middleOf(cells, k);
    return drawn.some(([left, bottom, right, top]) => x >= left && x <= right && y >= bottom && y <= top);
  };
  // Each place of the strip on the sheet that is turned to the middle of the text.
  const xs = new Float64Array(cells.columns * cells.rows);
  const ys = new Float64Array(xs.length);
  for (let column = 0; column < cells.columns; column++) {
    const [x] = middleOf(cells, column);
    const point = { glyph: { key: '', advance: 0, path: [] }, character: '', x: x / size, y: 0 };
    const placed = placeGlyph(surface, point, size, direction, at);
    const [cos, sin] = [Math.cos(toRad(placed.rotation)), Math.sin(toRad(placed.rotation))];
    for (let row = 0; row < cells.rows; row++) {
      const k = row * cells.columns + column;
      const [, y] = middleOf(cells, k);
      const place = surface.toSurfaceNear(placed.x - y * sin, placed.y + y * cos);
      [xs[k], ys[k]] = surface.toSheet(place.z, place.angle + placed.turn - at.angle);
    }
  }
  const sheet = cellsOver(growBounds(rangeOf(xs, ys), beside), size / CELLS_OF_HEIGHT);
  work.take(xs.length + sheet.columns * sheet.rows, 'seenCell');
  const field = sweptCut(tool, moves, sheet, at.angle, 'edges');
  work.take(field.steps, 'sweptCell');
  // Letters that only a thread joins are read one by one.
  const limit = firmLimit(width, size, sheet.cell);
  const isCut = atCell(sheet, (k) => field.inside[k]! > limit);
  const set = Uint8Array.from(xs, (x, k) => Number(isOfText(k) && isCut(x, ys[k]!)));
  return { cells, set };
}

const FAR = Number.POSITIVE_INFINITY;

function rangeOf(xs: Float64Array, ys: Float64Array): Bounds {
  const box: [number, number, number, number] = [FAR, FAR, -FAR, -FAR];
  for (let k = 0; k < xs.length; k++) {
    box[0] = Math.min(box[0], xs[k]!);
    box[1] = Math.min(box[1], ys[k]!);
    box[2] = Math.max(box[2], xs[k]!);
    box[3] = Math.max(box[3], ys[k]!);
  }
  return box;
}

/** A piece of what is cut. */
interface LetterPiece {
  left: number;
  right: number;
  readonly cells: number[];
}

/** From the left to the right. */
function letterPieces({ cells, set }: Strip): LetterPiece[] {
  const { of, count } = piecesOf(cells, set, true);
  const all: LetterPiece[] = Array.from({ length: count }, () => ({
    left: Number.POSITIVE_INFINITY,
    right: Number.NEGATIVE_INFINITY,
    cells: [],
  }));
  for (let k = 0; k < of.length; k++) {
    if (of[k] === 0) continue;
    const piece = all[of[k]! - 1]!;
    const column = k % cells.columns;
    piece.cells.push(k);
    piece.left = Math.min(piece.left, column);
    piece.right = Math.max(piece.right, column + 1);
  }
  return all
    .filter((piece) => piece.cells.length >= BURR_CELLS)
    .sort((one, other) => one.left - other.left || one.right - other.right);
}

/** What the pieces say, so that as few as can be are no letters, and the others are as like as can be. */
function wordOf(
  cells: Cells,
  pieces: readonly LetterPiece[],
  known: readonly KnownLetter[],
  size: number,
): string {
  const best: { readonly cost: number; readonly word: string }[] = [{ cost: 0, word: '' }];
  const widest = (Math.max(...known.map(({ shape }) => shape.width)) + 2 * LIKE * size) / cells.cell;
  const scratch = new Uint8Array(cells.columns * cells.rows);
  for (let end = 1; end <= pieces.length; end++) {
    const none = best[end - 1]!;
    let found = { cost: none.cost + NONE_COST, word: none.word + NO_LETTER };
    for (let count = 1; count <= Math.min(MOST_PIECES, end); count++) {
      const before = best[end - count]!;
      if (count > 1 && pieces[end - 1]!.right - pieces[end - count]!.left > widest) break;
      const one = letterOf(cells, pieces.slice(end - count, end), known, size, scratch);
      if (one && before.cost + one.cost < found.cost)
        found = { cost: before.cost + one.cost, word: before.word + one.character };
    }
    best.push(found);
  }
  return best.at(-1)!.word;
}

/** Dearer than a letter of as many pieces as can be. */
const NONE_COST = 1;

/** The character that pieces are most like, and how little, as a part of the height; undefined where they are like none. */
function letterOf(
  cells: Cells,
  pieces: readonly LetterPiece[],
  known: readonly KnownLetter[],
  size: number,
  set: CellSet,
): { readonly character: string; readonly cost: number } | undefined {
  for (const piece of pieces) for (const k of piece.cells) set[k] = 1;
  const left = cells.left + Math.min(...pieces.map((one) => one.left)) * cells.cell;
  const right = cells.left + Math.max(...pieces.map((one) => one.right)) * cells.cell;
  const top = cells.bottom + cells.rows * cells.cell;
  const shape = letterShape(
    [left, cells.bottom, right, top],
    size,
    atCell(cells, (k) => set[k] === 1),
  );
  for (const piece of pieces) for (const k of piece.cells) set[k] = 0;
  const nearest = shape && nearestLetter(shape, known, size);
  return nearest && { character: nearest.character, cost: nearest.difference / size };
}
