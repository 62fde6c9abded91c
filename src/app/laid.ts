import { rosetteCurves, roundLines } from '../artwork/engine-turned.js';
import type { CutBlock } from '../cutting/cuts.js';
import { orderLines, orderTour } from '../cutting/order.js';
import type { CutParameters } from '../cutting/strategies.js';
import { cutLines } from '../cutting/strategies.js';
import type { MotifMark, PatternMark } from '../documents/schema/design.js';
import { flatten } from '../geometry/flatten.js';
import type { Path } from '../geometry/path.js';
import { problem } from '../layout/messages.js';
import {
  anglesOf,
  type Barrier,
  barriersOf,
  type GrownPatches,
  overlapped,
  touched,
  trimAreas,
  trimLines,
} from '../layout/trim.js';
import { placeRigid, placeStretched, type Repeat, repeatPlaces, wrapRound } from '../layout/wrap.js';
import { middleAngleOf } from '../layout/zone.js';
import type { ShapedLine } from '../lettering/shaped-line.js';
import type { Problem } from '../problem.js';
import type { Obstacle } from '../surface/keepouts.js';
import { FLATTEN_TOLERANCE_MM } from '../units.js';
import { cutParameters } from './loads.js';
import type { LaidMark } from './marks.js';
import { motifKey, type Workshop } from './workshop.js';

/** A mark laid down, and what became of its repeats or lines. */
export interface TiledPattern {
  readonly blocks: readonly CutBlock[];
  readonly kept: number;
  readonly trimmed: number;
  readonly dropped: number;
  /** Where is told from the mark on. */
  readonly problems: readonly Problem[];
}

/** One repeat or line on the sheet turned to `turn`, before it is held against the keep-outs. */
interface PatternInstance {
  readonly key: string;
  readonly name: string;
  readonly turn: number;
  /** Edges of areas, and lines to be followed. */
  readonly areas: readonly Path[];
  readonly lines: readonly Path[];
}

/** Left of a line that is trimmed, anything shorter is not worth a plunge, mm. */
const SHORTEST_MM = 0.2;

/** Lays a repeating drawing or a pattern among other marks' obstacles, and drops, trims or refuses what would touch a keep-out. */
export function tilePattern(workshop: Workshop, of: LaidMark, others: readonly Obstacle[]): TiledPattern {
  const { mark } = of;
  if (mark.kind === 'motif' && mark.repeat?.form === 'stretched' && !(motifOf(workshop, mark).width > 0))
    return refused(problem('layout.drawing-without-width', '', {}));
  const instances = mark.kind === 'motif' ? repeatsOf(workshop, of, mark) : patternOf(of, mark);
  const how = cutParameters(workshop, of);
  const half = of.cutWidth / 2;
  const blocks: CutBlock[] = [];
  const problems: Problem[] = [];
  const counts = { kept: 0, trimmed: 0, dropped: 0 };
  const grown: GrownPatches = new Map();
  for (const instance of instances) {
    const reach = anglesOf(
      of.surface,
      [...instance.areas, ...instance.lines].map((p) => p.points),
    );
    const barriers = (by: number) => [
      ...barriersOf(of.surface, of.obstacles, by, instance.turn, reach, grown),
      ...barriersOf(of.surface, others, by + mark.apart, instance.turn, reach, grown),
    ];
    const edge = of.spread / 2;
    // An area that is taken out meets what lies within it, though no edge of it comes there.
    const edges =
      how.way === 'trace'
        ? touched(instance.areas, barriers(edge))
        : overlapped(
            instance.areas.map((p) => p.points),
            barriers(edge),
          );
    const meeting = edges ?? touched(instance.lines, barriers(half));
    if (meeting !== undefined && mark.meets === 'refuse') {
      problems.push(problem('layout.meets-obstacle', `: ${instance.name}`, { obstacle: meeting }));
      continue;
    }
    const left =
      meeting === undefined
        ? instance
        : mark.meets === 'drop'
          ? undefined
          : trimmed(instance, how, edge, half, barriers);
    const made = left ? blocksOf(mark.id, left, how) : [];
    blocks.push(...made);
    if (made.length === 0) counts.dropped++;
    else if (meeting === undefined) counts.kept++;
    else counts.trimmed++;
  }
  if (blocks.length === 0 && problems.length === 0) problems.push(problem('layout.nothing-left', '', {}));
  const wishes = {
    smallFirst: mark.order.includes('small-first'),
    keepDirection: how.keepDirection ?? false,
  };
  return { blocks: orderTour(of.surface, blocks, wishes), ...counts, problems };
}

const refused = (one: Problem): TiledPattern => ({
  blocks: [],
  kept: 0,
  trimmed: 0,
  dropped: 0,
  problems: [one],
});

const motifOf = (workshop: Workshop, { artwork, strokes }: MotifMark): ShapedLine =>
  workshop.motifs.get(motifKey(artwork, strokes))!.line;

function trimmed(
  instance: PatternInstance,
  how: CutParameters,
  edge: number,
  half: number,
  barriers: (by: number) => Barrier[],
): PatternInstance {
  const lines = trimLines(instance.lines, barriers(half), SHORTEST_MM);
  // An edge that is traced ends at the keep-out; an area that is cleared is closed along it.
  if (how.way === 'trace')
    return {
      ...instance,
      areas: [],
      lines: [...lines, ...trimLines(instance.areas, barriers(edge), SHORTEST_MM)],
    };
  const areas = trimAreas(
    instance.areas.map((p) => p.points),
    barriers(edge),
  );
  return { ...instance, lines, areas: areas.map((points) => ({ points, closed: true })) };
}

/** A block of the areas, and one of the lines, so that each is drawn as what it is. */
function blocksOf(
  mark: string,
  { key, name, turn, areas, lines }: PatternInstance,
  how: CutParameters,
): CutBlock[] {
  const of = { mark, name, turn, depth: how.depth, passes: how.passes };
  const made: CutBlock[] = [
    { ...of, key: `${key} areas`, ...cutLines(areas, true, how) },
    { ...of, key: `${key} lines`, lines: orderLines(lines, how.keepDirection) },
  ];
  return made.filter((b) => b.lines.length > 0);
}

function repeatsOf(workshop: Workshop, of: LaidMark, mark: MotifMark): PatternInstance[] {
  const { surface } = of;
  const { line } = workshop.motifs.get(motifKey(mark.artwork, mark.strokes))!;
  // Both come from the documents check: one height, one place.
  const size = mark.size as number;
  const repeat: Repeat = { count: 1, rows: 1, rise: 0, step: 0, mirror: 'none', ...mark.repeat };
  const drawn = line.glyphs.map(({ glyph }) => ({
    stroked: glyph.stroked === true,
    paths: flatten(glyph.path, size, FLATTEN_TOLERANCE_MM).map((p) =>
      centredPath(p, line.width * size, size),
    ),
  }));
  const rotation = (mark.baseline === 'lengthwise' ? 90 : 0) + (mark.reading === 'up' ? 0 : 180);
  const middle = surface.slant(mark.place.z as number);
  return repeatPlaces(repeat, middleAngleOf(mark, of.part)).map(({ row, index, turn, up, mirrored }) => {
    const set = (stroked: boolean): Path[] =>
      drawn
        .filter((d) => d.stroked === stroked)
        .flatMap(({ paths }) => {
          if (mark.repeat?.form !== 'stretched') return placeRigid(paths, middle + up, rotation, mirrored);
          const turned = placeRigid(paths, 0, rotation, false);
          const across = rotation % 180 === 0 ? line.width * size : size;
          return placeStretched(surface, turned, middle + up, across, repeat.count, mirrored);
        });
    return {
      key: `${mark.id} ${mark.artwork} ${row} ${index}`,
      name: repeat.count * repeat.rows === 1 ? mark.artwork : `${mark.artwork} ${row + 1}.${index + 1}`,
      turn,
      areas: set(false),
      lines: set(true),
    };
  });
}

/** A path counted from the middle of a drawing so many mm wide and high. */
function centredPath({ points, closed }: Path, width: number, height: number): Path {
  return { closed, points: points.map((v, i) => v - (i % 2 === 0 ? width : height) / 2) };
}

function patternOf(of: LaidMark, mark: PatternMark): PatternInstance[] {
  const { surface } = of;
  const { pattern: spec } = mark;
  const middle = surface.slant(mark.place.z as number);
  const angle = middleAngleOf(mark, of.part);
  if (spec.form === 'rosettes') {
    const curves = rosetteCurves(spec, FLATTEN_TOLERANCE_MM).map((points) => ({ points, closed: true }));
    return repeatPlaces({ ...spec, mirror: 'none' }, angle).map(({ row, index, turn, up }) => ({
      key: `${mark.id} ${row} ${index}`,
      name: `rosette ${row + 1}.${index + 1}`,
      turn,
      areas: [],
      lines: placeRigid(curves, middle + up, 0, false),
    }));
  }
  return roundLines(spec, FLATTEN_TOLERANCE_MM).map((line, k) => {
    const { turn, points, closed } = wrapRound(surface, line, middle, angle);
    return { key: `${mark.id} ${k}`, name: `line ${k + 1}`, turn, areas: [], lines: [{ points, closed }] };
  });
}
