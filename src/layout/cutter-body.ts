import type { Cutter } from '../documents/schema/cutter.js';
import type { CutStrategy } from '../documents/schema/design.js';
import { type Obstacle, obstacleOf } from '../surface/keepouts.js';
import { diameterAt } from '../surface/part-profile.js';
import type { ClipKeepout, PartShape } from '../surface/part-shape.js';
import { keepoutName, surfaceObstacles } from '../surface/phrases.js';
import type { Surface } from '../surface/surface.js';
import { toRad } from '../units.js';
import { bodyRadius } from './cutter-form.js';

/** What cuts a mark: the whole cutter, its depth, and half the width of the cut beside the axis of the cutter. */
export interface BodyCut {
  readonly cutter: Cutter;
  readonly depth: number;
  readonly way: CutStrategy;
  /** Width of the cut at full depth, mm. */
  readonly cutWidth: number;
}

/** A profile is looked at in steps of this, and places are found to this closeness, mm. */
const PROFILE_STEP_MM = 0.01;
const PLACE_MM = 0.001;
const MOST_STEPS = 2000;
/** Touching is no harm. */
const TOUCH_MM = 0.0005;

/** A place of a part in the plane of its axis: z and radius, mm. */
type Corner = readonly [z: number, radius: number];

/**
 * What a cut must keep clear of so that flank, shank and holder of its cutter clear what stands beside the surface: shoulders, and
 * clips and bands with a height. Level or tilted, whichever asks for more. Without those that the surface's own clearances
 * (`known`) already keep.
 */
export function bodyObstacles(
  part: PartShape,
  surface: Surface,
  cut: BodyCut,
  known: readonly Obstacle[],
): Obstacle[] {
  const setups = surface.kind === 'cone' ? [0, toRad(surface.taper)] : [0];
  const bodies = setups.map((axis) => new CutterBody(surface, cut, axis));
  if (bodies.some((body) => body.meetsItself())) {
    const name = surfaceObstacles.phrase('surface.itself-met', { surface: surface.id });
    return [{ shape: 'ring', name, from: Number.NEGATIVE_INFINITY, to: Number.POSITIVE_INFINITY }];
  }
  const found = bodies.flatMap((body) => [...shoulders(part, surface, body), ...bands(part, surface, body)]);
  return [...found.filter((one) => !isKept(one, known)), ...clips(part, surface, bodies)];
}

/** A cutter on its way along a generator of a surface. */
class CutterBody {
  readonly #surface: Surface;
  readonly #cut: BodyCut;
  readonly #depth: number;
  readonly #sin: number;
  readonly #cos: number;
  readonly #lean: number;

  /** `axis`: of the cutter against the radius of the part, radians. */
  constructor(surface: Surface, cut: BodyCut, axis: number) {
    this.#surface = surface;
    this.#cut = cut;
    // A groove is as deep as it is far from the drawing's edge, where the tip alone stands.
    this.#depth = cut.way === 'groove' ? 0 : cut.depth;
    [this.#sin, this.#cos] = [Math.sin(axis), Math.cos(axis)];
    this.#lean = Math.cos(toRad(surface.taper) - axis);
  }

  /** From the axis of the cutter to the edge of what it cuts, mm. */
  get half(): number {
    const { way, cutter, cutWidth } = this.#cut;
    if (way !== 'groove') return cutWidth / 2;
    return cutter.shape === 'cone' ? cutter.tip / 2 : 0;
  }

  /** How much wider to a side than what it cuts the cutter is `height` mm over the surface, mm. */
  widerAt(height: number): number {
    return bodyRadius(this.#cut.cutter, height + this.#depth / this.#lean) - this.half;
  }

  /** Whether a shank or a holder meets the surface that is cut: it begins too low, or leans into it uphill. */
  meetsItself(): boolean {
    const { cutter, depth } = this.#cut;
    const rise = Math.sqrt(1 - this.#lean * this.#lean) / this.#lean;
    const long = this.#surface.z1 - this.#surface.z0;
    return (cutter.body ?? []).some(
      ({ from, diameter }) => depth / this.#lean + Math.min(diameter / 2, long) * rise > from + TOUCH_MM,
    );
  }

  /** Whether the cutter meets any of these places when it stands `slant` mm from the lower edge. */
  meets(slant: number, corners: readonly Corner[]): boolean {
    const { z0, z1 } = this.#surface;
    const z = z0 + (slant / this.#surface.slant(z1)) * (z1 - z0);
    const plunge = this.#depth / this.#lean;
    const tipZ = z + this.#sin * plunge;
    const tipR = this.#surface.radius(z) - this.#cos * plunge;
    return corners.some(([at, radius]) => {
      const h = (radius - tipR) * this.#cos - (at - tipZ) * this.#sin;
      const q = Math.abs((at - tipZ) * this.#cos + (radius - tipR) * this.#sin);
      return h > TOUCH_MM && q < bodyRadius(this.#cut.cutter, h) - TOUCH_MM;
    });
  }

  /** The last place from `free` to `met` at which the cutter clears these, as a slant, mm; `met` where it clears all. */
  lastFree(free: number, met: number, corners: readonly Corner[]): number {
    if (!this.meets(met, corners)) return met;
    let [a, b] = [free, met];
    while (Math.abs(b - a) > PLACE_MM) {
      const middle = (a + b) / 2;
      if (this.meets(middle, corners)) b = middle;
      else a = middle;
    }
    return a;
  }
}

/** What of the part lies beyond the surface's two edges. */
function shoulders(part: PartShape, surface: Surface, body: CutterBody): Obstacle[] {
  const { z0, z1, id } = surface;
  const end = surface.slant(z1);
  const all = cornersOf(part);
  const low = body.lastFree(
    end,
    0,
    all.filter(([z]) => z < z0),
  );
  const high = body.lastFree(
    0,
    end,
    all.filter(([z]) => z > z1),
  );
  const found: Obstacle[] = [];
  if (low > 0)
    found.push({
      shape: 'ring',
      name: surfaceObstacles.phrase('surface.below-met', { surface: id }),
      from: Number.NEGATIVE_INFINITY,
      to: low - body.half,
    });
  if (high < end)
    found.push({
      shape: 'ring',
      name: surfaceObstacles.phrase('surface.above-met', { surface: id }),
      from: high + body.half,
      to: Number.POSITIVE_INFINITY,
    });
  return found;
}

/** The bands on the surface that stand proud of it. */
function bands(part: PartShape, surface: Surface, body: CutterBody): Obstacle[] {
  const end = surface.slant(surface.z1);
  return part.keepouts.flatMap((band): Obstacle[] => {
    if (band.kind !== 'band' || band.height === 0) return [];
    if (band.to < surface.z0 || band.from > surface.z1) return [];
    const corners = topOf(part, band);
    const middle = Math.min(end, Math.max(0, surface.slant((band.from + band.to) / 2)));
    const from = body.lastFree(0, middle, corners) + body.half;
    const to = body.lastFree(end, middle, corners) - body.half;
    return from < to ? [{ shape: 'ring', name: keepoutName(band), from, to }] : [];
  });
}

/** The clips that stand proud of the surface, grown by what of the cutter is wider at their height than at the surface. */
function clips(part: PartShape, surface: Surface, bodies: readonly CutterBody[]): Obstacle[] {
  return part.keepouts.flatMap((clip): Obstacle[] => {
    if (clip.kind !== 'clip' || clip.height === 0) return [];
    const wider = Math.max(
      ...bodies.map((body) => body.widerAt(clip.height)),
      ...endsOf(part, surface, clip, bodies),
    );
    if (wider <= clip.shadow + clip.clearance) return [];
    const obstacle = obstacleOf({ ...clip, shadow: 0, clearance: wider }, surface);
    return obstacle ? [obstacle] : [];
  });
}

/** How far from each end of a clip, along the surface, the edge of a cut must stay, mm; an end past the surface has none. */
function endsOf(
  part: PartShape,
  surface: Surface,
  clip: ClipKeepout,
  bodies: readonly CutterBody[],
): number[] {
  const end = surface.slant(surface.z1);
  const corners = topOf(part, clip);
  const [from, to] = [surface.slant(clip.from), surface.slant(clip.to)];
  const hold = (slant: number) => Math.min(end, Math.max(0, slant));
  return bodies.flatMap((body) => [
    from > 0 ? from - body.lastFree(0, hold(from), corners) - body.half : 0,
    to < end ? body.lastFree(end, hold(to), corners) - to - body.half : 0,
  ]);
}

/** The top of a band or a clip in the plane of the axis, in short steps. */
function topOf(
  { profile }: PartShape,
  { from, to, height }: { readonly from: number; readonly to: number; readonly height: number },
): Corner[] {
  const count = Math.min(MOST_STEPS, Math.max(1, Math.ceil((to - from) / PROFILE_STEP_MM)));
  return Array.from({ length: count + 1 }, (_, n): Corner => {
    const z = from + (n / count) * (to - from);
    return [z, diameterAt(profile, z) / 2 + height];
  });
}

/** The profile in short steps, with the tops of its bands. A clip stands at one side only. */
function cornersOf(part: PartShape): Corner[] {
  const { profile, keepouts } = part;
  const corners: Corner[] = profile.flatMap((a, k): Corner[] => {
    const b = profile[k + 1];
    if (!b) return [[a.z, a.diameter / 2]];
    const long = Math.hypot(b.z - a.z, (b.diameter - a.diameter) / 2);
    const count = Math.min(MOST_STEPS, Math.max(1, Math.ceil(long / PROFILE_STEP_MM)));
    return Array.from({ length: count }, (_, n): Corner => {
      const t = n / count;
      return [a.z + t * (b.z - a.z), (a.diameter + t * (b.diameter - a.diameter)) / 2];
    });
  });
  const tops = keepouts.flatMap((k) => (k.kind === 'band' && k.height > 0 ? topOf(part, k) : []));
  return [...corners, ...tops];
}

/** The edge of the cut itself may lie so far past what is kept, where a cone makes it wider on one side, mm. */
const KEPT_MM = 0.01;

/** Whether a ring lies within one that is kept already. */
const isKept = (one: Obstacle, known: readonly Obstacle[]): boolean =>
  one.shape === 'ring' &&
  known.some(
    (other) => other.shape === 'ring' && other.from - KEPT_MM <= one.from && other.to + KEPT_MM >= one.to,
  );
