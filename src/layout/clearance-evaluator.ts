import { boundsOfCurves } from '../geometry/curve-bounds.js';
import { flatten } from '../geometry/flatten.js';
import type { Path } from '../geometry/path.js';
import type { Font, Glyph } from '../lettering/font.js';
import type { ShapedLine } from '../lettering/shaped-line.js';
import type { Phrase } from '../problem.js';
import type { Obstacle } from '../surface/keepouts.js';
import type { Place, Surface } from '../surface/surface.js';
import { FLATTEN_TOLERANCE_MM, toRad } from '../units.js';
import {
  type Circle,
  circleRound,
  type Ink,
  indexPatch,
  type ObstacleClearance,
  patchClearance,
  patchClearanceBound,
  ringClearance,
  ringClearanceBound,
  STEPS_OF_PLACE,
} from './clearance.js';
import {
  type CentredGlyph,
  placeGlyph,
  placeOnSheet,
  slopeOf,
  type TextDirection,
} from './glyph-placement.js';
import { markLimits } from './phrases.js';
import type { PlaceClearance } from './search.js';
import { StepBudget } from './step-budget.js';
import type { Zone } from './zone.js';

/** One mark with every label it will ever carry, to be given one size and one place. */
export interface FitRequest {
  readonly surface: Surface;
  readonly obstacles: readonly Obstacle[];
  readonly mark: TextDirection & { readonly size: SizeRange };
  readonly zone: Zone;
  readonly font: Pick<Font, 'kind'>;
  readonly lines: readonly { readonly label: string; readonly line: ShapedLine }[];
  /** Width of the cut at full depth, mm; 0 where the cutter keeps within the drawing. */
  readonly cutWidth: number;
  /** The line leads back into its own start all round the ring, so it has none to keep clear of. */
  readonly closes?: boolean;
  /** What the fit may take; shared by the marks of an edition. */
  readonly budget?: StepBudget;
  /** The mark, for a person: `designs/cap-number.yaml: mark number`. */
  readonly where?: string;
}

/** Letter height, mm: one, or a range to be fitted. */
export type SizeRange = number | { readonly min: number; readonly max: number };

/** What leaves least clearance, and how much: mm to spare, or too far in when negative. */
export interface Limit {
  readonly clearance: number;
  readonly label: string;
  readonly glyph: string;
  readonly obstacle: Phrase;
}

/** Measures every label at once; below `floor` the clearance need only be no less than the true one. */
export type ClearanceEvaluator = (size: number, at: Place, floor: number) => Limit & PlaceClearance;

/** A letter in one row, with all the places in it where some label has it, by x. */
export interface Letter {
  readonly glyph: Glyph;
  readonly places: readonly LetterPlace[];
  /** Of the first label that has it. */
  readonly first: LetterPlace;
}

export interface LetterPlace extends CentredGlyph {
  readonly label: string;
}

/** Labels share most of their letters at the same places: each is measured once, in the name of its first label. */
export function lettersOf(lines: FitRequest['lines']): Letter[] {
  const seen = new Map<string, Map<number, Map<number, LetterPlace>>>();
  const all: Map<number, LetterPlace>[] = [];
  for (const { label, line } of lines) {
    for (const { glyph, character, x: left, y = 0 } of line.glyphs) {
      const rows = seen.get(glyph.key) ?? new Map<number, Map<number, LetterPlace>>();
      seen.set(glyph.key, rows);
      let places = rows.get(y);
      if (!places) {
        places = new Map();
        rows.set(y, places);
        all.push(places);
      }
      const x = left - line.width / 2;
      const rounded = Math.round(x * 1e9);
      if (!places.has(rounded)) places.set(rounded, { glyph, character, x, y, label });
    }
  }
  return all.map((places) => {
    const list = [...places.values()];
    return { glyph: list[0]!.glyph, first: list[0]!, places: list.sort((a, b) => a.x - b.x) };
  });
}

/** A letter at one size, in its own frame. */
interface Shape {
  readonly paths: readonly Path[];
  readonly circle: Circle;
}

interface Placed {
  readonly ink: Ink;
  readonly turn: number;
}

/**
 * The clearance a mark has from its own start all round a ring, by size and the place of its middle. It is halved, since
 * both ends move: so the clearance changes no faster than the ink does. A helix keeps clear of itself by its length or
 * by its climb: the turns of it are one block on the sheet, moved along the ring by the whole of it. On a cone the
 * narrowest ring that the mark comes to decides.
 */
export function startClearance(request: FitRequest, letters: readonly Letter[]): StartClearance {
  const { surface, mark, cutWidth, closes, lines } = request;
  if (closes) return () => Number.POSITIVE_INFINITY;
  if (mark.baseline === 'lengthwise') return lengthwiseClearance(request, letters);
  const { width } = widestOf(request).line;
  // Not by an argument for each glyph: a hundred thousand labels have more of them than a call takes.
  let rows = 0;
  for (const { line } of lines) for (const { y = 0 } of line.glyphs) rows = Math.max(rows, Math.abs(y));
  const narrowing = Math.abs(Math.sin(toRad(surface.taper)));
  const ringAt = (z: number, along: number) => 2 * Math.PI * (surface.radius(z) - narrowing * along);
  return (size, z) => {
    if (mark.baseline === 'ring') return (ringAt(z, rows * size) - width * size - cutWidth) / 2;
    const slope = Math.abs(slopeOf(surface, mark, z));
    const ring = ringAt(z, (rows + (width / 2) * Math.sin(slope)) * size);
    const beside = ring * Math.cos(slope) - width * size;
    const above = ring * Math.sin(slope) - (1 + 2 * rows + HANGS) * size;
    return (Math.max(beside, above) - cutWidth) / 2;
  };
}

/** That of letters set lengthwise, whose rows lie side by side round the ring: from the foot of the last to the head of the first. */
function lengthwiseClearance(
  { surface, mark, cutWidth }: FitRequest,
  letters: readonly Letter[],
): StartClearance {
  let [foot, head, back, front] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const { glyph, places } of letters) {
    const [left, bottom, right, top] = boundsOfCurves(glyph.path);
    const { y } = places[0]!;
    foot = Math.min(foot, y + bottom - 0.5);
    head = Math.max(head, y + top - 0.5);
    back = Math.min(back, places[0]!.x + left);
    front = Math.max(front, places.at(-1)!.x + right);
  }
  if (!(foot < head)) return () => Number.POSITIVE_INFINITY;
  const [down, up] = mark.reading === 'up' ? [back, front] : [-front, -back];
  const narrowing = Math.abs(Math.sin(toRad(surface.taper)));
  return (size, z) => {
    const middle = surface.slant(z);
    if (!surface.apex) return (2 * Math.PI * surface.radius(z) - (head - foot) * size - cutWidth) / 2;
    const apex = surface.apex[1];
    const far = apex > middle ? apex - middle - up * size : middle + down * size - apex;
    // Past the apex there is no surface: its edge is nearer than this.
    const least = Math.max(far, 1e-6);
    const across = Math.atan2(head * size, least) - Math.atan2(foot * size, least);
    return (least * (2 * Math.PI * narrowing - across) - cutWidth) / 2;
  };
}

/** How far accents and tails reach above and below a row together, in letter heights: no turn of a helix meets the next. */
const HANGS = 0.75;

export type StartClearance = (size: number, z: number) => number;

/** The widest line of a mark, and whose it is. */
export const widestOf = ({ lines }: FitRequest): FitRequest['lines'][number] =>
  lines.reduce((w, l) => (l.line.width > w.line.width ? l : w), lines[0]!);

export function clearanceEvaluator(request: FitRequest, letters: readonly Letter[]): ClearanceEvaluator {
  const { surface, obstacles, mark, zone, font, cutWidth } = request;
  const all = [...obstacles, ...zone.walls];
  const rings = all.filter((o) => o.shape === 'ring');
  const patches = all.filter((o) => o.shape === 'patch').map(indexPatch);
  const half = cutWidth / 2;
  const widest = widestOf(request);
  const ownStart = startClearance(request, letters);
  const { budget = new StepBudget(), where = '' } = request;
  const { z, angle } = zone;
  const fixed = typeof mark.size === 'number' && z[0] === z[1] && angle[0] === angle[1];
  const spend = (steps: number) => budget.spend(steps, { where, fixed });
  const round = mark.baseline === 'ring';
  let shapesAt = Number.NaN;
  const shapes = new Map<Letter, Shape>();
  // The place that failed last is the likeliest to fail next: asked first, it lets the others be dismissed.
  let suspect: { readonly letter: Letter; readonly k: number } | undefined;

  const shapeOf = (letter: Letter, size: number): Shape => {
    if (size !== shapesAt) {
      shapes.clear();
      shapesAt = size;
    }
    let shape = shapes.get(letter);
    if (!shape) {
      const paths = flatten(letter.glyph.path, size, FLATTEN_TOLERANCE_MM);
      shape = { paths, circle: circleRound(paths.map((p) => p.points)) };
      shapes.set(letter, shape);
    }
    return shape;
  };

  /** Places a letter. On a ring its places differ by the turn alone, and its ink is placed once for all. */
  const placer = ({ glyph, places }: Letter, { paths, circle }: Shape, size: number, at: Place) => {
    let shared: Ink | undefined;
    return (k: number): Placed => {
      const { turn, rotation, x, y } = placeGlyph(surface, places[k]!, size, mark, at);
      if (round && shared) return { ink: shared, turn };
      const middle = placeOnSheet(Float64Array.of(circle.x, circle.y), rotation, x, y);
      let placedPaths: Path[] | undefined;
      const lay = () =>
        paths.map((p) => ({ closed: p.closed, points: placeOnSheet(p.points, rotation, x, y) }));
      shared = {
        filled: font.kind === 'outline' && !glyph.stroked,
        circle: { x: middle[0]!, y: middle[1]!, r: circle.r },
        paths: () => (placedPaths ??= lay()),
      };
      return { ink: shared, turn };
    };
  };

  return (size, at, floor) => {
    spend(STEPS_OF_PLACE * (1 + letters.length));
    let limit: Limit = {
      clearance: ownStart(size, at.z),
      label: widest.label,
      glyph: '',
      obstacle: markLimits.phrase('layout.own-start', {}),
    };
    let byRings = Number.POSITIVE_INFINITY;
    const take = (letter: Letter, { clearance, obstacle }: ObstacleClearance, k?: number) => {
      if (clearance >= limit.clearance || !obstacle) return;
      const { label, character } = k === undefined ? letter.first : letter.places[k]!;
      limit = { clearance, obstacle, label, glyph: character };
      suspect = { letter, k: k ?? 0 };
    };
    const evaluateLetter = (letter: Letter, from: number, to: number) => {
      const shape = shapeOf(letter, size);
      if (shape.paths.length === 0) return;
      const place = placer(letter, shape, size, at);
      const xs = (k: number) => letter.places[k]!.x * size;
      const { circle } = place(from).ink;
      const atRings = (k: number, known: number) => {
        spend(STEPS_OF_PLACE);
        return ringClearance(surface, place(k).ink, rings, half, known, spend);
      };
      if (round) {
        const beside = atRings(from, byRings);
        byRings = beside.clearance;
        take(letter, beside);
      } else {
        const bound = (k: number) => ringClearanceBound(surface, place(k).ink.circle, rings, half);
        const least = leastClearance(
          xs,
          from,
          to,
          1,
          circle.r,
          byRings,
          Number.NEGATIVE_INFINITY,
          bound,
          atRings,
        );
        byRings = least.clearance;
        take(letter, least, least.k);
      }
      const bound = (k: number) => {
        const { ink, turn } = place(k);
        spend(STEPS_OF_PLACE * (1 + patches.length));
        return patchClearanceBound(surface, ink.circle, turn, patches, half);
      };
      const atPatches = (k: number, known: number) => {
        const { ink, turn } = place(k);
        return patchClearance(surface, ink, turn, patches, half, known, spend);
      };
      const row = {
        z: at.z + letter.first.y * size * Math.cos(toRad(surface.taper)) * (mark.reading === 'up' ? 1 : -1),
      };
      const pace = mark.baseline === 'lengthwise' ? 1 : paceOf(surface, row, circle);
      const least = leastClearance(xs, from, to, pace, circle.r, limit.clearance, floor, bound, atPatches);
      take(letter, least, least.k);
    };
    if (suspect && shapeOf(suspect.letter, size).paths.length > 0) {
      const { letter, k } = suspect;
      evaluateLetter(letter, k, k);
    }
    for (const letter of letters) {
      if (limit.clearance < floor) break;
      evaluateLetter(letter, 0, letter.places.length - 1);
    }
    return { ...limit, ringClearance: byRings };
  };
}

/** How far ink moves, at the most, when its place on the ring through `at` moves by 1 mm: more on a cone's wider side. */
function paceOf(surface: Surface, at: Pick<Place, 'z'>, circle: Circle): number {
  if (!surface.apex) return 1;
  const [x, y] = surface.apex;
  return (Math.hypot(circle.x - x, circle.y - y) + circle.r) / Math.abs(surface.slant(at.z) - y);
}

/**
 * The least clearance of one letter at places `from` to `to`, which lie at x by x. Between places d mm apart clearance differs by
 * at most d times `pace`, so one that has more to spare than that answers for its neighbours: the places are halved
 * until all are answered for. The answer is `known` when nothing comes below it; below `floor` the first found will do.
 */
function leastClearance(
  x: (k: number) => number,
  from: number,
  to: number,
  pace: number,
  across: number,
  known: number,
  floor: number,
  bound: (k: number) => number,
  measure: (k: number, known: number) => ObstacleClearance,
): ObstacleClearance & { readonly k?: number } {
  let least: ObstacleClearance & { readonly k?: number } = { clearance: known, obstacle: undefined };
  const stretches: [number, number][] = [[from, to]];
  for (let next = stretches.pop(); next; next = stretches.pop()) {
    const [low, high] = next;
    const k = (low + high) >> 1;
    // A hair more than the distance, for what rounding takes.
    const reach = pace * Math.max(x(high) - x(k), x(k) - x(low)) * (1 + 1e-9);
    if (bound(k) - reach >= least.clearance) continue;
    if (reach > across) {
      // Too wide for one place to speak for, however closely it is measured.
      stretches.push([low, k], [k + 1, high]);
      continue;
    }
    const here = measure(k, least.clearance + reach);
    if (here.clearance < least.clearance) least = { ...here, k };
    if (least.clearance < floor) return least;
    if (here.clearance - reach >= least.clearance) continue;
    if (low < k) stretches.push([low, k - 1]);
    if (k < high) stretches.push([k + 1, high]);
  }
  return least;
}
