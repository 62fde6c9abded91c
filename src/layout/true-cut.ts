import type { Cutter } from '../documents/schema/cutter.js';
import type { Surface } from '../surface/surface.js';
import { toRad } from '../units.js';
import { cutWidth } from './cut-width.js';

/** How a station holds a cutter: its axis through that of the part, or square to the surface. */
export type Setup = 'level' | 'tilted';

/** How far a cut of some depth reaches on the surface from where the cutter's tip stands, and how deep its floor is, mm. */
export interface TrueCut {
  /** Toward where the part is thicker. */
  readonly up: number;
  readonly down: number;
  /** Round the part, to either side. */
  readonly round: number;
  /** Under the surface, along its normal. */
  readonly floor: number;
}

/** Round the part this much of the angle is found, radians. */
const ANGLE = 1e-9;

/**
 * The true cut of a cutter that stands `depth` mm deep where the radius of a surface is `radius` mm (docs/swept-cut.md).
 * `up` is infinite where a level cone's side is no steeper than the surface.
 */
export function trueCut(
  cutter: Cutter,
  depth: number,
  { radius, taper }: { readonly radius: number; readonly taper: number },
  setup: Setup,
): TrueCut {
  const lean = setup === 'level' ? Math.abs(toRad(taper)) : 0;
  const plunge = depth / Math.cos(lean);
  // Square to a cone, the part is as round as where its normal meets its axis.
  const round = setup === 'level' ? radius : radius / Math.cos(toRad(taper));
  return {
    up: alongSlant(cutter, plunge, lean),
    down: alongSlant(cutter, plunge, -lean),
    round: roundPart(cutter, plunge, round),
    floor: depth + floorBelow(cutter, plunge, lean),
  };
}

/** How far along a slant that rises by `lean` radians against the cutter's cross-section the cut reaches, mm. */
function alongSlant(cutter: Cutter, plunge: number, lean: number): number {
  const [sin, cos] = [Math.sin(lean), Math.cos(lean)];
  const most = plunge <= 0 ? 0 : lean < 0 ? plunge / -sin : Number.POSITIVE_INFINITY;
  switch (cutter.shape) {
    case 'cone': {
      const widening = Math.tan(toRad(cutter.angle) / 2);
      const less = cos - widening * sin;
      return less <= 0
        ? Number.POSITIVE_INFINITY
        : Math.min(most, (cutter.tip / 2 + widening * plunge) / less);
    }
    case 'ball': {
      const r = cutter.diameter / 2;
      const over = r - plunge;
      const root = r * r - (over * cos) ** 2;
      const along = root <= 0 ? 0 : over * sin + Math.sqrt(root);
      // Above its middle the ball is a shank.
      return plunge + along * sin > r ? r / cos : Math.max(0, along);
    }
    case 'flat':
      return Math.min(most, cutter.diameter / 2 / cos);
    case 'drag':
    case 'beam':
      return Math.min(most, cutter.width / 2 / cos);
  }
}

/** How far round a part of a radius the cut reaches, mm along the arc: the part falls away under the cutter. */
function roundPart(cutter: Cutter, plunge: number, radius: number): number {
  const isCut = (angle: number): boolean => {
    const h = plunge - radius * (1 - Math.cos(angle));
    return h >= 0 && radius * Math.sin(angle) <= cutWidth(cutter, h) / 2;
  };
  let [low, high] = [0, Math.PI / 2];
  while (high - low > ANGLE) {
    const middle = (low + high) / 2;
    if (isCut(middle)) low = middle;
    else high = middle;
  }
  return radius * low;
}

/** How much deeper than the tip the end of a cutter lies that leans, mm along the normal. */
function floorBelow(cutter: Cutter, plunge: number, lean: number): number {
  switch (cutter.shape) {
    case 'cone':
      return (cutter.tip / 2) * Math.sin(lean);
    case 'ball':
      return plunge > 0 ? (cutter.diameter / 2) * (1 - Math.cos(lean)) : 0;
    case 'flat':
      return (cutter.diameter / 2) * Math.sin(lean);
    case 'drag':
    case 'beam':
      return (cutter.width / 2) * Math.sin(lean);
  }
}

/** What differs by less than this part of the width is left to the clearance. */
const SLIGHT = 0.02;

/** The width to reckon with, mm, and how it comes about. */
export interface ReckonedCut {
  /** Twice the farthest that any set-up cuts to any side; the plain width where that is hardly more. */
  readonly width: number;
  /** The width square to a flat surface. */
  readonly plain: number;
  /** The deepest floor, mm. */
  readonly floor: number;
  /** How much wider to one side a level cutter cuts than a tilted one, as a part of half the width; 0 where hardly. */
  readonly wider: number;
  /** How much narrower a line along the part is than one round it, as a part of the width; 0 where hardly. */
  readonly narrower: number;
}

/** How a cut anywhere on a surface is to be reckoned with, on any of these set-ups. */
export function reckonedCut(
  cutter: Cutter,
  depth: number,
  surface: Surface,
  setups: readonly Setup[],
): ReckonedCut {
  const plain = cutWidth(cutter, depth);
  const { taper } = surface;
  const radii = [surface.radius(surface.z0), surface.radius(surface.z1)];
  const cuts = setups.flatMap((setup) =>
    radii.map((radius) => ({ setup, cut: trueCut(cutter, depth, { radius, taper }, setup) })),
  );
  const half = plain / 2;
  // No cut is wider than the surface is long.
  const long = half + surface.slant(surface.z1) - surface.slant(surface.z0);
  const reached = (cut: TrueCut) => Math.min(long, Math.max(cut.up, cut.down, cut.round));
  const most = Math.max(half, ...cuts.map(({ cut }) => reached(cut)));
  const level = cuts.filter(({ setup }) => setup === 'level').map(({ cut }) => Math.min(long, cut.up));
  const round = Math.min(half, ...cuts.map(({ cut }) => cut.round));
  const part = (share: number) => (share > SLIGHT ? share : 0);
  return {
    plain,
    width: most > half * (1 + SLIGHT) ? 2 * most : plain,
    floor: Math.max(depth, ...cuts.map(({ cut }) => cut.floor)),
    wider: part(Math.max(half, ...level) / half - 1),
    narrower: part(1 - round / half),
  };
}
