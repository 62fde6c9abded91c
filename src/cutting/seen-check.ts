import type { Mark } from '../documents/schema/design.js';
import { boundsOfAll, boundsOfPaths } from '../geometry/bounds.js';
import { flatten } from '../geometry/flatten.js';
import { cutWidth } from '../layout/cut-width.js';
import { sizeRange } from '../layout/fit.js';
import { fittedTexts, type MarkFit } from '../layout/fit-marks.js';
import { type CentredGlyph, centreGlyphs, type PlacedGlyph, placeGlyph } from '../layout/glyph-placement.js';
import type { MarkToFit } from '../layout/mark-to-fit.js';
import type { Font } from '../lettering/font.js';
import type { Problem } from '../problem.js';
import type { Place } from '../surface/surface.js';
import { FLATTEN_TOLERANCE_MM, toRad } from '../units.js';
import { blockMoves } from './block-moves.js';
import type { CutWork } from './cut-work.js';
import type { CutBlock } from './cuts.js';
import { glyphBlock, type KnownGlyphs } from './glyph.js';
import { KnownLetters, LIKE, LOOK_ALIKES, nearestLetter } from './known-letters.js';
import { ALIKE, differenceOf, type LetterShape, letterShape } from './letter-shape.js';
import { problem } from './messages.js';
import { type SeenCut, type SeenFault, type SeenKind, seenCut } from './seen-cut.js';
import type { CutParameters } from './strategies.js';
import type { SweptTool } from './swept-cut.js';

const CODES = {
  lost: 'cutting.seen-lost',
  broken: 'cutting.seen-broken',
  filled: 'cutting.seen-filled',
  joined: 'cutting.seen-joined',
  closed: 'cutting.seen-closed',
} as const satisfies Record<Exclude<SeenKind, 'nothing'>, string>;

/** The most letters of one mark that are named. */
const MOST_NAMED = 20;
/** On a slighter taper the set-ups cut alike: a cone of 90 degrees 3.5 % wider to one side at the most. */
const SLIGHT_DEG = 2;
/** Radii this much alike, as parts, make no difference that a letter shows. */
const RADIUS_PART = 0.02;

/**
 * What of a fitted mark the metal would not show as it is drawn: each letter once, under the first label that has it, as
 * its cutter's true form cuts it on each of these set-ups (on a cylinder, or nearly one, they are one). Letters named under
 * `may-differ` may be so, but not left out. Patterns are not looked at: their lines cross and touch by design.
 */
export function markSeen(
  fit: MarkFit,
  parameters: CutParameters,
  setups: readonly SweptTool['setup'][],
  work: CutWork,
): Problem[] {
  const { mark } = fit.of;
  if (mark.kind === 'pattern') return [];
  const allowed = new Set(mark['may-differ']);
  const found: Problem[] = [];
  const looked = new Set<string>();
  const cuts: KnownGlyphs = new Map();
  const shapes = new Map<string, SeenLetter>();
  const letters = new Map<number, KnownLetters>();
  for (const { label, glyph, size, at, font } of lettersOf(fit)) {
    if (found.length >= MOST_NAMED) break;
    const { surface } = fit.of;
    const placed = placeGlyph(surface, glyph, size, directionOf(fit.of), { z: at.z, angle: 0 });
    const alike = Math.round(Math.log(surface.radius(at.z)) / RADIUS_PART);
    const key = `${glyph.glyph.key} ${size} ${placed.rotation} ${alike}`;
    if (looked.has(key)) continue;
    looked.add(key);
    const block = glyphBlock(placed, { mark: mark.id, font, size }, parameters, cuts, work);
    // A letter that is not there at all is no lesser one.
    if (allowed.has(glyph.character) && block.lines.length > 0) continue;
    const different = Math.abs(surface.taper) > SLIGHT_DEG ? setups : setups.slice(0, 1);
    const cutOn = different.map((setup) =>
      seenCut({ surface, setup, cutter: parameters.cutter }, blockMoves(surface, block), block, size, work),
    );
    const fault = cutOn.map((cut) => worstOf(mark, cut)).find((one) => one !== undefined);
    if (fault) found.push(problemOf(fault, block, parameters, label));
    else if (fit.of.kind === 'line' && mark.kind === 'number' && !shapes.has(glyph.character)) {
      const width = cutWidth(parameters.cutter, parameters.depth);
      const shape = shapeOf(placed, size, width, cutOn[0]!);
      if (!shape) continue;
      shapes.set(glyph.character, { character: glyph.character, label, size, shape });
      const drawing = {
        font: fit.of.font,
        figures: mark.figures,
        size,
        width,
        isTraced: mark.way === 'trace',
      };
      const known = letters.get(size) ?? new KnownLetters(drawing);
      letters.set(size, known);
      const reads = misreading(shape, glyph, size, known, work);
      if (reads !== undefined)
        found.push(problem('cutting.seen-misread', `label ${label}`, { name: glyph.character, reads }));
    }
  }
  return [...found, ...alikeLetters([...shapes.values()])].slice(0, MOST_NAMED);
}

/** A letter of a number as it is cut, and the first label that has it. */
interface SeenLetter {
  readonly character: string;
  readonly label: string;
  readonly size: number;
  readonly shape: LetterShape;
}

/** What is seen of a letter, turned back to its own frame. */
function shapeOf(placed: PlacedGlyph, size: number, width: number, cut: SeenCut): LetterShape | undefined {
  const drawn = flatten(placed.glyph.path, size, FLATTEN_TOLERANCE_MM);
  const [left, bottom, right, top] = boundsOfPaths(drawn);
  const bounds = [left - width, bottom - width, right + width, top + width] as const;
  const [cos, sin] = [Math.cos(toRad(placed.rotation)), Math.sin(toRad(placed.rotation))];
  return letterShape(bounds, size, (x, y) =>
    cut.isCut(placed.x + x * cos - y * sin, placed.y + x * sin + y * cos),
  );
}

/** What differs from its character by no more than this part of its height is read as that. */
const PLAIN = 0.04;
/** A character is told from another where it is nearer by this part of its height: a cell of what is read. */
const NEARER = 0.02;

/** What a letter of a number is read as by mistake, or may be: another character, or `none`. */
function misreading(
  shape: LetterShape,
  { character, glyph }: CentredGlyph,
  size: number,
  known: KnownLetters,
  work: CutWork,
): string | undefined {
  const own = known.of(character, glyph, work);
  const difference = own ? differenceOf(shape, own.shape, LIKE * size) : Number.POSITIVE_INFINITY;
  if (difference <= PLAIN * size) return undefined;
  if (difference > (LIKE - NEARER) * size) return 'none';
  const others = known.ofEach(LOOK_ALIKES, work).filter((one) => one.character !== character);
  const nearest = nearestLetter(shape, others, size);
  return nearest && nearest.difference < difference + NEARER * size ? nearest.character : undefined;
}

/** Letters of numbers that are cut so much alike that one is taken for the other. */
function alikeLetters(letters: readonly SeenLetter[]): Problem[] {
  return letters.flatMap((one, k) =>
    letters
      .slice(0, k)
      .filter((other) => differenceOf(one.shape, other.shape, ALIKE * one.size) < Number.POSITIVE_INFINITY)
      .map((other) =>
        problem('cutting.seen-alike', `label ${one.label}`, {
          name: one.character,
          other: other.character,
          label: other.label,
        }),
      ),
  );
}

interface Letter {
  readonly label: string;
  readonly glyph: CentredGlyph;
  readonly size: number;
  readonly at: Place;
  readonly font: Pick<Font, 'id' | 'kind'>;
}

function* lettersOf(fit: MarkFit): Generator<Letter> {
  if (fit.kind === 'tiled') {
    const { mark, motif, surface } = fit.of;
    if (mark.kind !== 'motif') return;
    const [size] = sizeRange(mark.size);
    const at = { z: (surface.z0 + surface.z1) / 2, angle: 0 };
    for (const glyph of centreGlyphs(motif!.line))
      yield {
        label: mark.artwork,
        glyph: { ...glyph, character: mark.artwork },
        size,
        at,
        font: motif!.font,
      };
    return;
  }
  const { font } = fit.of;
  const met = new Map<number, Set<CentredGlyph['glyph']>>();
  for (const { label, line, size, at } of fittedTexts(fit)) {
    // Labels share their letters: most are dismissed before anything is made for them.
    const known = met.get(size) ?? new Set();
    met.set(size, known);
    const isAlike = fit.of.surface.kind === 'cylinder' && line.glyphs.every(({ glyph }) => known.has(glyph));
    if (isAlike) continue;
    for (const { glyph } of line.glyphs) known.add(glyph);
    for (const glyph of centreGlyphs(line))
      if (glyph.glyph.path.length > 0) yield { label, glyph, size, at, font };
  }
}

const directionOf = ({ mark }: MarkToFit) =>
  'baseline' in mark
    ? { baseline: mark.baseline, reading: mark.reading, ...('pitch' in mark ? { pitch: mark.pitch } : {}) }
    : ({ baseline: 'ring', reading: 'up' } as const);

/** Of a drawing only that a part is lost is a fault: what is near one another in it may be meant to meet. */
const worstOf = ({ kind }: Mark, { faults }: SeenCut): SeenFault | undefined =>
  kind === 'motif' ? faults.find((one) => one.kind === 'nothing' || one.kind === 'lost') : faults[0];

function problemOf(
  fault: SeenFault,
  block: CutBlock,
  { cutter, depth }: CutParameters,
  label: string,
): Problem {
  const { name } = block;
  const where = `label ${label}`;
  if (fault.kind === 'nothing')
    return problem('cutting.seen-nothing', where, { name, width: cutWidth(cutter, depth) });
  const [left, bottom] = boundsOfAll(block.area ?? block.lines.map(({ points }) => points));
  return problem(CODES[fault.kind], where, { name, x: fault.x - left, y: fault.y - bottom });
}
