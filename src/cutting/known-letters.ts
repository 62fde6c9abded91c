import { boundsOfPaths, growBounds } from '../geometry/bounds.js';
import { atCell, cellsAlong, cellsOver, cellsWithin } from '../geometry/cell-grid.js';
import { flatten } from '../geometry/flatten.js';
import type { DigitStyle, Font, Glyph } from '../lettering/font.js';
import { FLATTEN_TOLERANCE_MM } from '../units.js';
import type { CutWork } from './cut-work.js';
import { CELLS_OF_HEIGHT, differenceOf, firmLimit, type LetterShape, letterShape } from './letter-shape.js';

/** How letters are drawn and cut. */
export interface LetterDrawing {
  readonly font: Font;
  readonly figures: DigitStyle;
  /** Letter height, mm. */
  readonly size: number;
  /** Width of the cut at full depth, mm. */
  readonly width: number;
  /** Whether the edges of an outline font are followed, and its letters not filled. */
  readonly isTraced: boolean;
}

/** A character and what it would show. */
export interface KnownLetter {
  readonly character: string;
  readonly shape: LetterShape;
}

/** Characters that the letters of a number are held against, beside its own: what numbers are made of and mistaken for. */
export const LOOK_ALIKES = '0123456789/IVXLCDMOQBSZGTl|';

/**
 * A letter is read where no place of it lies farther than this part of its height from a character's own, nor the other
 * way round (common practice, no source): thin ends that a groove does not reach are as long, and letters of a hand are
 * told apart by more.
 */
export const LIKE = 0.15;

/** What the characters of a font would show, each drawn once. */
export class KnownLetters {
  readonly #drawing: LetterDrawing;
  readonly #known = new Map<string, KnownLetter | undefined>();

  constructor(drawing: LetterDrawing) {
    this.#drawing = drawing;
  }

  /** Undefined where nothing shows. */
  of(character: string, glyph: Glyph, work: CutWork): KnownLetter | undefined {
    const key = `${character} ${glyph.key}`;
    if (!this.#known.has(key)) this.#known.set(key, this.#drawn(character, glyph, work));
    return this.#known.get(key);
  }

  /** Those of the characters that the font has. */
  ofEach(characters: string, work: CutWork): KnownLetter[] {
    const { font, figures } = this.#drawing;
    return [...characters].flatMap((character) => {
      const glyph = font.glyph(character, figures);
      return (glyph && this.of(character, glyph, work)) ?? [];
    });
  }

  #drawn(character: string, glyph: Glyph, work: CutWork): KnownLetter | undefined {
    if (glyph.path.length === 0) return undefined;
    const { font, size, width, isTraced } = this.#drawing;
    const paths = flatten(glyph.path, size, FLATTEN_TOLERANCE_MM);
    const isFilled = font.kind === 'outline' && !glyph.stroked && !isTraced;
    const cell = size / CELLS_OF_HEIGHT;
    const by = isFilled ? 0 : width / 2 - firmLimit(width, size, cell);
    const box = growBounds(boundsOfPaths(paths), by);
    const cells = cellsOver(growBounds(box, cell), cell);
    work.take(cells.columns * cells.rows, 'seenCell');
    const rings = paths.map(({ points }) => points);
    const set = isFilled ? cellsWithin(cells, rings) : cellsAlong(cells, paths, by);
    const shape = letterShape(
      box,
      size,
      atCell(cells, (k) => set[k] === 1),
    );
    return shape && { character, shape };
  }
}

/** The character that a shape is most like, and by how much they differ, mm; undefined where it is like none. */
export function nearestLetter(
  shape: LetterShape,
  known: readonly KnownLetter[],
  size: number,
): { readonly character: string; readonly difference: number } | undefined {
  let found: { readonly character: string; readonly difference: number } | undefined;
  for (const { character, shape: other } of known) {
    const difference = differenceOf(shape, other, found?.difference ?? LIKE * size);
    if (difference < (found?.difference ?? Number.POSITIVE_INFINITY)) found = { character, difference };
  }
  return found;
}
