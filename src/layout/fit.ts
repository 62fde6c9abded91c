import type { Mark } from '../documents/schema/design.js';
import { type FlatPath, flatten } from '../lettering/flatten.js';
import type { Font } from '../lettering/font.js';
import type { SetLine } from '../lettering/shape.js';
import type { Obstacle } from '../surface/keepouts.js';
import type { Place, Surface } from '../surface/surface.js';
import { FLATTEN_TOLERANCE_MM, SAFETY_MM } from '../units.js';
import { type Circle, circleRound, type Ink, patchRoom, ringRoom, type Tight } from './clearance.js';
import { type CentredGlyph, centred, placeGlyph, setDown } from './place.js';
import { bestPlace, type Judged } from './search.js';
import type { Zone } from './zone.js';

/** One mark with every label it will ever carry, to be given one size and one place. */
export interface FitRequest {
  readonly surface: Surface;
  readonly obstacles: readonly Obstacle[];
  readonly mark: Mark;
  readonly zone: Zone;
  readonly font: Font;
  readonly lines: readonly { readonly label: string; readonly line: SetLine }[];
  /** Width of the cut at full depth, mm. */
  readonly cutWidth: number;
}

/** What leaves least room, and how much: mm to spare, or too far in when negative. */
export interface Limit {
  readonly room: number;
  readonly label: string;
  readonly glyph: string;
  readonly obstacle: string;
}

export interface Trial {
  readonly size: number;
  readonly at: Place;
  readonly limit: Limit;
}

export type FitResult =
  | {
      readonly ok: true;
      readonly size: number;
      readonly at: Place;
      readonly limit: Limit;
      /** The size range stopped it, not the surface. */
      readonly atLargest: boolean;
      /** 0.5 % larger: where it fails, or by how much it would still fit when the size range stopped it. */
      readonly larger: Trial;
    }
  | {
      readonly ok: false;
      /** The smallest size at its best place. */
      readonly smallest: Trial;
      readonly nearest: NearestChange[];
    };

/** A change that would make a mark fit at its smallest size. */
export type NearestChange =
  | { readonly change: 'size'; readonly size: number }
  | { readonly change: 'z' | 'angle'; readonly to: number; readonly by: number };

export const sizeRange = (mark: Mark): readonly [number, number] =>
  typeof mark.size === 'number' ? [mark.size, mark.size] : [mark.size.min, mark.size.max];

/**
 * The largest size within the mark's range at which every label lies in the free region, its cut's width counted
 * in, and the place for it. Sizes are tried from the largest down on a grid of three figures; a size that misses by
 * d mm at every place cannot be mended by shrinking less than d over the reach of the ink, so the march skips no
 * size that fits. docs/fit.md has the argument.
 */
export function fitMark(request: FitRequest): FitResult {
  const [least, most] = sizeRange(request.mark);
  const grid = 10 ** (Math.floor(Math.log10(least)) - 3);
  const glyphs = distinctGlyphs(request);
  const judge = judgeOf(request, glyphs);
  const found = march(request, judge, glyphs, least, most, grid);
  if (!found) {
    const smallest = trial(request, judge, least);
    return { ok: false, smallest, nearest: nearestChanges(request, judge, glyphs, smallest, grid) };
  }
  const { at, limit } = trial(request, judge, found);
  return {
    ok: true,
    size: found,
    at,
    limit,
    atLargest: found === most,
    larger: trial(request, judge, found * 1.005),
  };
}

type Judge = (size: number, at: Place, floor: number) => Limit & Judged;

interface DistinctGlyph extends CentredGlyph {
  readonly label: string;
}

/** Labels share most of their letters at the same places: each is judged once, in the name of its first label. */
function distinctGlyphs({ lines }: FitRequest): DistinctGlyph[] {
  const seen = new Map<string, DistinctGlyph>();
  for (const { label, line } of lines) {
    for (const one of centred(line)) {
      const key = `${one.glyph.key} ${one.x.toFixed(9)}`;
      if (!seen.has(key)) seen.set(key, { ...one, label });
    }
  }
  return [...seen.values()];
}

function judgeOf(request: FitRequest, glyphs: readonly DistinctGlyph[]): Judge {
  const { surface, obstacles, mark, zone, font, lines, cutWidth } = request;
  const all = [...obstacles, ...zone.walls];
  const rings = all.filter((o) => o.shape === 'ring');
  const patches = all.filter((o) => o.shape === 'patch');
  const widest = lines.reduce((w, l) => (l.line.width > w.line.width ? l : w), lines[0]!);
  const filled = font.kind === 'outline';
  let flatAt = Number.NaN;
  let flat: { readonly paths: readonly FlatPath[]; readonly circle: Circle }[] = [];
  let order = glyphs.map((_, i) => i);

  const inkAt = (size: number, at: Place, i: number): { ink: Ink; turn: number } => {
    const { turn, quarters, x, y } = placeGlyph(surface, glyphs[i]!, size, mark, at);
    const { paths, circle } = flat[i]!;
    const [cx, cy] = setDown(Float64Array.of(circle.x, circle.y), quarters, x, y) as unknown as [
      number,
      number,
    ];
    let laid: FlatPath[] | undefined;
    const lay = () => paths.map((p) => ({ closed: p.closed, points: setDown(p.points, quarters, x, y) }));
    return { ink: { filled, circle: { x: cx, y: cy, r: circle.r }, paths: () => (laid ??= lay()) }, turn };
  };

  return (size, at, floor) => {
    if (size !== flatAt) {
      flat = glyphs.map(({ glyph }) => {
        const paths = flatten(glyph.path, size, FLATTEN_TOLERANCE_MM);
        return { paths, circle: circleRound(paths.map((p) => p.points)) };
      });
      flatAt = size;
    }
    let limit = { room: Number.POSITIVE_INFINITY, label: '', glyph: '', obstacle: '' };
    let worst = -1;
    const tighter = (i: number, { room, obstacle }: Tight) => {
      if (room >= limit.room) return;
      limit = { room, obstacle, label: glyphs[i]!.label, glyph: glyphs[i]!.character };
      worst = i;
    };
    if (mark.baseline === 'ring') {
      const gap = 2 * Math.PI * surface.radius(at.z) - widest.line.width * size - cutWidth;
      // Halved, since both ends move: so the room changes no faster than the ink does.
      limit = {
        room: gap / 2,
        label: widest.label,
        glyph: '',
        obstacle: 'its own start, all round the ring',
      };
    }
    let byRings = limit.room;
    for (const i of order) {
      if (limit.room < floor) break;
      if (flat[i]!.paths.length === 0) continue;
      const { ink, turn } = inkAt(size, at, i);
      const beside = ringRoom(surface, ink, rings, cutWidth / 2, byRings);
      byRings = Math.min(byRings, beside.room);
      tighter(i, beside);
      tighter(i, patchRoom(surface, ink, turn, patches, cutWidth / 2, limit.room));
    }
    // The one that failed last is the likeliest to fail next: first in line, it lets the others be dismissed.
    if (worst >= 0 && order[0] !== worst) order = [worst, ...order.filter((i) => i !== worst)];
    return { ...limit, ringRoom: byRings };
  };
}

/** Farthest any ink lies from its line's middle, in letter heights. */
function inkReach(glyphs: readonly DistinctGlyph[]): number {
  let most = 0.5;
  for (const g of glyphs) {
    for (const s of g.glyph.path) {
      for (let i = 1; i + 1 < s.length; i += 2)
        most = Math.max(most, Math.hypot(g.x + (s[i] as number), (s[i + 1] as number) - 0.5));
    }
  }
  return most;
}

function march(
  request: FitRequest,
  judge: Judge,
  glyphs: readonly DistinctGlyph[],
  least: number,
  most: number,
  grid: number,
): number | undefined {
  // A tenth over, for the arc a ring letter moves on beside the middle of a steep cone.
  const reach = inkReach(glyphs) * 1.1;
  const round = (size: number) => Number((Math.floor(size / grid + 1e-6) * grid).toFixed(9));
  for (let size = most; ; ) {
    const best = bestPlace(request.surface, request.zone, (at, floor) => judge(size, at, floor), SAFETY_MM);
    if (best.judged.room >= SAFETY_MM) return size;
    if (size <= least) return undefined;
    const miss = Math.max(0, SAFETY_MM - best.atMost);
    size = Math.max(least, round(Math.min(size - miss / reach, size - grid / 2)));
  }
}

function trial(request: FitRequest, judge: Judge, size: number): Trial {
  const best = bestPlace(request.surface, request.zone, (at, floor) => judge(size, at, floor));
  const { room, label, glyph, obstacle } = best.judged;
  return { size, at: best.at, limit: { room, label, glyph, obstacle } };
}

/** How far along the part a mark is moved in looking for a place that fits, mm, and in what steps. */
const MOVE_MM = 20;
const STEP_MM = 0.05;

function nearestChanges(
  request: FitRequest,
  judge: Judge,
  glyphs: readonly DistinctGlyph[],
  smallest: Trial,
  grid: number,
): NearestChange[] {
  const changes: NearestChange[] = [];
  const smaller = march(request, judge, glyphs, smallest.size / 4, smallest.size, grid / 10);
  if (smaller) changes.push({ change: 'size', size: smaller });
  const { at, size } = smallest;
  const { surface } = request;
  // A zone's own walls would move with it, so a move is looked for only where the place is one figure.
  if (request.zone.walls.length > 0) return changes;
  for (let mm = STEP_MM; mm <= MOVE_MM; mm += STEP_MM) {
    for (const by of [mm, -mm]) {
      const z = at.z + by;
      if (z < surface.z0 || z > surface.z1) continue;
      if (judge(size, { z, angle: at.angle }, SAFETY_MM).room < SAFETY_MM) continue;
      changes.push({ change: 'z', to: z, by });
      mm = MOVE_MM + 1;
      break;
    }
  }
  for (let deg = 0.5; deg <= 180; deg += 0.5) {
    const by = [deg, -deg].find(
      (d) => judge(size, { z: at.z, angle: at.angle + d }, SAFETY_MM).room >= SAFETY_MM,
    );
    if (by === undefined) continue;
    changes.push({ change: 'angle', to: at.angle + by, by });
    break;
  }
  return changes;
}
