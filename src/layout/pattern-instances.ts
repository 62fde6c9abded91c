import type { MotifSetting } from '../artwork/artwork.js';
import { ringLines, rosetteCurves } from '../artwork/engine-turned.js';
import type { MotifMark, PatternMark } from '../documents/schema/design.js';
import { flatten } from '../geometry/flatten.js';
import type { Path } from '../geometry/path.js';
import { FLATTEN_TOLERANCE_MM } from '../units.js';
import type { TiledMark } from './mark-to-fit.js';
import {
  placeRigid,
  placeStretched,
  type Repeat,
  type RepeatPlace,
  repeatPlaces,
  wrapRound,
} from './wrap.js';
import { middleAngleOf, onlyNumber } from './zone.js';

/** One repeat of a drawing or one line of a pattern, on the sheet turned to `turn`, degrees; points in mm. */
export interface PatternInstance {
  /** Equal keys mean equal instances. */
  readonly key: string;
  /** For a person. */
  readonly name: string;
  readonly turn: number;
  /** Edges of areas, and lines to be followed: the same lists in instances that differ only in where they are turned to. */
  readonly areas: readonly Path[];
  readonly lines: readonly Path[];
}

/** Every repeat or line of a tiled mark where its document puts it, before it is compared with the keep-outs. */
export function patternInstances(of: TiledMark): PatternInstance[] {
  const { mark, motif } = of;
  return mark.kind === 'motif' ? repeatInstances(of, mark, motif!) : lineInstances(of, mark);
}

function repeatInstances(
  { surface, part }: TiledMark,
  mark: MotifMark,
  motif: MotifSetting,
): PatternInstance[] {
  const { line } = motif;
  const size = onlyNumber(mark.size);
  const repeat: Repeat = { count: 1, rows: 1, rise: 0, step: 0, mirror: 'none', ...mark.repeat };
  const drawn = line.glyphs.map(({ glyph }) => ({
    stroked: glyph.stroked === true,
    paths: flatten(glyph.path, size, FLATTEN_TOLERANCE_MM).map((p) =>
      centredPath(p, line.width * size, size),
    ),
  }));
  const rotation = (mark.baseline === 'lengthwise' ? 90 : 0) + (mark.reading === 'up' ? 0 : 180);
  const middle = surface.slant(onlyNumber(mark.place.z));
  const drawnAt = ({ up, mirrored }: RepeatPlace): Pick<PatternInstance, 'areas' | 'lines'> => {
    const pathsOf = (stroked: boolean): Path[] =>
      drawn
        .filter((d) => d.stroked === stroked)
        .flatMap(({ paths }) => {
          if (mark.repeat?.form !== 'stretched') return placeRigid(paths, middle + up, rotation, mirrored);
          const turned = placeRigid(paths, 0, rotation, false);
          const across = rotation % 180 === 0 ? line.width * size : size;
          return placeStretched(surface, turned, middle + up, across, repeat.count, mirrored);
        });
    return { areas: pathsOf(false), lines: pathsOf(true) };
  };
  const known = new Map<string, Pick<PatternInstance, 'areas' | 'lines'>>();
  return repeatPlaces(repeat, middleAngleOf(mark, part)).map((place) => {
    const { row, index, turn, mirrored } = place;
    const drawing = known.get(`${row} ${mirrored}`) ?? drawnAt(place);
    known.set(`${row} ${mirrored}`, drawing);
    return {
      key: `${mark.id} ${mark.artwork} ${row} ${index}`,
      name: repeat.count * repeat.rows === 1 ? mark.artwork : `${mark.artwork} ${row + 1}.${index + 1}`,
      turn,
      ...drawing,
    };
  });
}

/** A path measured from the middle of a drawing of this width and height, mm. */
function centredPath({ points, closed }: Path, width: number, height: number): Path {
  return { closed, points: points.map((v, i) => v - (i % 2 === 0 ? width : height) / 2) };
}

function lineInstances({ surface, part }: TiledMark, mark: PatternMark): PatternInstance[] {
  const { pattern: spec } = mark;
  const middle = surface.slant(onlyNumber(mark.place.z));
  const angle = middleAngleOf(mark, part);
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
  return ringLines(spec, FLATTEN_TOLERANCE_MM).map((line, k) => {
    const { turn, points, closed } = wrapRound(surface, line, middle, angle);
    return { key: `${mark.id} ${k}`, name: `line ${k + 1}`, turn, areas: [], lines: [{ points, closed }] };
  });
}
