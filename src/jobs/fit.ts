import { cutWidth } from '../cutting/width.js';
import type { Design, Mark } from '../documents/schema/design.js';
import type { Edition } from '../documents/schema/edition.js';
import type { Part } from '../documents/schema/part.js';
import { planned } from '../edition/labels.js';
import { box } from '../layout/apart.js';
import { type FitResult, fitMark, sizeRange } from '../layout/fit.js';
import { lettersOf } from '../layout/judge.js';
import { placeGlyph, setDown } from '../layout/place.js';
import { type Zone, zoneOf } from '../layout/zone.js';
import { flatten } from '../lettering/flatten.js';
import type { Font } from '../lettering/font.js';
import { type SetLine, setLine } from '../lettering/shape.js';
import { type Problem, problem, Refusal } from '../problem.js';
import { type Obstacle, obstaclesOf } from '../surface/keepouts.js';
import { grow, type Polygons } from '../surface/polygons.js';
import { type Place, type Surface, surfaceOf } from '../surface/surface.js';
import { FLATTEN_TOLERANCE_MM } from '../units.js';
import { type Bench, editionOf } from './bench.js';

/** A mark of an edition with everything needed to fit it. */
export interface MarkToFit {
  readonly designId: string;
  readonly partId: string;
  readonly part: Part;
  readonly mark: Mark;
  readonly surface: Surface;
  readonly obstacles: readonly Obstacle[];
  readonly zone: Zone;
  readonly font: Font;
  readonly cutWidth: number;
  /** Every label of the edition for a number; the text alone for an inscription. */
  readonly lines: ReadonlyMap<string, SetLine>;
}

export interface MarkFit extends MarkToFit {
  readonly result: FitResult;
}

/** A mark that fits: its one size and its one place. */
export interface FittedMark extends MarkToFit {
  readonly size: number;
  readonly at: Place;
}

export interface EditionFit {
  readonly edition: string;
  readonly marks: readonly MarkFit[];
  readonly ok: boolean;
}

/**
 * Fits every mark of an edition: one size and one place for all its labels, each mark clear of those fitted before
 * it on the same surface. Marks that cannot move or change go first. Throws a Refusal (exit 2) when a font lacks a
 * character that a label needs.
 */
export function fitEdition(bench: Bench, editionId: string): EditionFit {
  const marks = marksOf(bench, editionOf(bench, editionId));
  const order = [...marks].sort((a, b) => Number(isLoose(a)) - Number(isLoose(b)));
  const taken = new Map<string, Obstacle[]>();
  const fits = new Map<MarkToFit, MarkFit>();
  for (const [k, one] of order.entries()) {
    const place = placeOf(one);
    const others = taken.get(place) ?? [];
    const result = fitMark({
      ...one,
      obstacles: [...one.obstacles, ...others],
      lines: [...one.lines].map(([label, line]) => ({ label, line })),
    });
    // A thousand numbers make many obstacles: only where a later mark has to keep clear of them.
    if (result.ok && order.slice(k + 1).some((later) => placeOf(later) === place))
      taken.set(place, [...others, ...asObstacles({ ...one, size: result.size, at: result.at })]);
    fits.set(one, { ...one, result });
  }
  const inOrder = marks.map((m) => fits.get(m)!);
  return { edition: editionId, marks: inOrder, ok: inOrder.every((m) => m.result.ok) };
}

/** The marks of a fit, each with its size and place. Throws a Refusal (exit 1) when one does not fit. */
export function fittedMarks(found: EditionFit): FittedMark[] {
  const problems = found.marks.flatMap((m) => (m.result.ok ? [] : [misfit(m)]));
  if (problems.length > 0) throw new Refusal(1, problems);
  return found.marks.flatMap((m) => (m.result.ok ? [{ ...m, size: m.result.size, at: m.result.at }] : []));
}

const placeOf = ({ partId, surface }: MarkToFit): string => `${partId} ${surface.id}`;

const isLoose = ({ zone, mark }: MarkToFit): boolean => {
  const [least, most] = sizeRange(mark.size);
  return least !== most || zone.z[0] !== zone.z[1] || zone.angle[0] !== zone.angle[1];
};

/** Every mark of an edition, ready to fit. Throws a Refusal (exit 2) when a font lacks a character that is needed. */
export function marksOf(bench: Bench, edition: Edition): MarkToFit[] {
  const problems: Problem[] = [];
  const marks = edition.designs.flatMap((designId) => {
    const design = bench.documents.designs.get(designId)!;
    return design.marks.map((mark) => markToFit(bench, edition, designId, design, mark, problems));
  });
  if (problems.length > 0) throw new Refusal(2, problems);
  return marks;
}

function markToFit(
  bench: Bench,
  edition: Edition,
  designId: string,
  design: Design,
  mark: Mark,
  problems: Problem[],
): MarkToFit {
  const part = bench.documents.parts.get(design.part)!;
  const surface = surfaceOf(part, mark.surface)!;
  const spec = part.surfaces.find((s) => s.id === mark.surface)!;
  const font = bench.fonts.get(mark.font)!;
  const texts = mark.kind === 'number' ? planned(edition).map((n) => n.label) : [mark.text];
  const lines = new Map(texts.map((text) => [text, setLine(font, text, mark.figures, mark.spacing)]));
  const missing = [...new Set([...lines.values()].flatMap((l) => l.missing))];
  if (missing.length > 0) {
    problems.push(
      problem(
        `designs/${designId}.yaml: mark ${mark.id}`,
        `The font ${mark.font} has no ${missing.map((c) => `"${c}" (${codePoint(c)})`).join(', ')}.`,
        'Choose a font that has it, or other text.',
      ),
    );
  }
  return {
    designId,
    partId: design.part,
    part,
    mark,
    surface,
    obstacles: obstaclesOf(part, spec, surface),
    zone: zoneOf(mark, part, surface),
    font,
    cutWidth: cutWidth(bench.documents.cutters.get(mark.cutter)!, mark.depth),
    lines,
  };
}

const codePoint = (character: string): string =>
  `U+${character.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}`;

/** What a fitted mark takes up, as obstacles to later ones: each letter's box, its cut counted in. */
function asObstacles({ mark, surface, size, at, lines, cutWidth }: FittedMark): Obstacle[] {
  return lettersOf([...lines.values()].map((line) => ({ label: '', line }))).flatMap(({ glyph, places }) => {
    const points = flatten(glyph.path, size, FLATTEN_TOLERANCE_MM).flatMap((p) => [...p.points]);
    if (points.length === 0) return [];
    const flat = Float64Array.from(points);
    // On a ring a letter's box is the same wherever it stands, but for the turn.
    const grown = new Map<string, Polygons>();
    return places.map((one): Obstacle => {
      const { turn, rotation, x, y } = placeGlyph(surface, one, size, mark, at);
      const key = `${x} ${y} ${rotation}`;
      let polygons = grown.get(key);
      if (!polygons) {
        const [x0, y0, x1, y1] = box(setDown(flat, rotation, x, y));
        polygons = grow([Float64Array.of(x0, y0, x1, y0, x1, y1, x0, y1)], cutWidth / 2);
        grown.set(key, polygons);
      }
      return { shape: 'patch', name: `mark ${mark.id}`, turn, polygons };
    });
  });
}

/** Why a mark does not fit, by how much, and the nearest change that would make it. */
export function misfit(one: MarkFit): Problem {
  if (one.result.ok) throw new RangeError('the mark fits');
  const { smallest, nearest } = one.result;
  const { limit } = smallest;
  const where = `designs/${one.designId}.yaml: mark ${one.mark.id}`;
  const short = `${Math.max(0.001, -limit.room).toFixed(3)} mm short of room`;
  const letter = limit.glyph ? ` ("${limit.glyph}" of it)` : '';
  const what = `At ${smallest.size} mm, the smallest, label ${limit.label}${letter} is ${short} at ${limit.obstacle}.`;
  const cures = nearest.map((n) => {
    if (n.change === 'size') return `allow a size of ${n.size} mm`;
    if (n.change === 'z') return `move it ${Math.abs(n.by).toFixed(2)} mm along, to z ${n.to.toFixed(2)}`;
    return `turn it ${Math.abs(n.by)} degrees, to angle ${n.to}`;
  });
  const cure =
    cures.length > 0
      ? `Nearest change: ${cures.join('; or ')}.`
      : 'Choose another surface or a shorter text.';
  return problem(where, what, cure);
}
