import type { Cutter } from '../documents/schema/cutter.js';
import { toRad } from '../units.js';
import { cutWidth } from './cut-width.js';

/** The end of a cutter as a body turned about its axis, pointing down; its tip is at height 0. */
export interface CutterForm {
  /** How far inside the cutter a place lies, mm: `q` from the axis, `h` above the tip. Below 0 outside; 0 on its surface. */
  inside(q: number, h: number): number;
  /** How far above the cutter's surface a place within it lies, measured along its axis, mm; below 0 outside. */
  above(q: number, h: number): number;
  /**
   * A cutter passes a place at distance `q`, and its tip goes down by `slope` mm a mm of its way there, less by `bend`
   * for each further mm. How far beyond the nearest point of its way it reaches deepest, mm.
   */
  deepest(q: number, slope: number, bend: number): number;
}

/**
 * The true form of a cutter. Cone: radius t / 2 + h tan(angle / 2) at height h, t the tip width. Ball: a half ball and a
 * shank of its diameter. Flat end and dragged point: straight sides (the latter as wide as the line it leaves).
 */
export function cutterForm(cutter: Cutter): CutterForm {
  switch (cutter.shape) {
    case 'cone':
      return coneForm(cutter.tip / 2, Math.tan(toRad(cutter.angle) / 2));
    case 'ball':
      return ballForm(cutter.diameter / 2);
    case 'flat':
      return straightForm(cutter.diameter / 2);
    case 'drag':
    case 'beam':
      return straightForm(cutter.width / 2);
  }
}

/** Beside a straight side there is nothing of the cutter at any height: so far below it a place counts as lying, mm. */
const FALL_MM = 1;
/** The last of a floor is left to its side. */
const WITHIN = 1 - 1e-6;

/** Half the width of a cutter `h` mm above its tip, shank and holder among it, mm. */
export function bodyRadius(cutter: Cutter, h: number): number {
  const steps = cutter.body ?? [];
  const step = steps.findLast(({ from }) => h >= from);
  if (step) return step.diameter / 2;
  const end = cutWidth(cutter, h) / 2;
  // A cone is ground into its shank, and is no wider.
  return steps[0] && cutter.shape === 'cone' ? Math.min(end, steps[0].diameter / 2) : end;
}

function coneForm(tip: number, widening: number): CutterForm {
  return {
    inside: (q, h) => {
      const side = tip + h * widening - q;
      return h < 0 ? Math.min(side, h) : side;
    },
    above: (q, h) => h - Math.max(0, q - tip) / widening,
    deepest: (q, slope, bend) => {
      // Where the side rises as fast along the way as the tip goes down: q' / widening = slope, q' = s / hypot(q, s).
      const part = slope * widening;
      if (Math.abs(part) >= 1) return part > 0 ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY;
      const along = (q * part) / Math.sqrt(1 - part * part);
      return Math.hypot(q, along) >= tip ? along : onFloor(tip, q, slope, bend);
    },
  };
}

function ballForm(radius: number): CutterForm {
  return {
    inside: (q, h) => (h >= radius ? radius - q : radius - Math.sqrt(q * q + (radius - h) ** 2)),
    above: (q, h) => (q > radius ? radius - q - FALL_MM : h - radius + Math.sqrt(radius * radius - q * q)),
    deepest: (q, slope, bend) => {
      const square = radius * radius - q * q;
      // Near its lowest point a ball rises by s^2 / 2 R, as a bend of 1 / R would.
      if (square <= 0) return 0;
      const along = slope * Math.sqrt(square / (1 + slope * slope));
      return along / (1 + bend * radius);
    },
  };
}

function straightForm(radius: number): CutterForm {
  return {
    inside: (q, h) => Math.min(radius - q, h),
    above: (q, h) => (q > radius ? radius - q - FALL_MM : h),
    deepest: (q, slope, bend) => onFloor(radius, q, slope, bend),
  };
}

/** On a level floor of a radius: as far as the tip still goes down, up to the floor's edge. */
function onFloor(radius: number, q: number, slope: number, bend: number): number {
  const edge = WITHIN * Math.sqrt(Math.max(0, radius * radius - q * q));
  const along = bend > 0 ? slope / bend : slope === 0 ? 0 : Math.sign(slope) * edge;
  return Math.min(edge, Math.max(-edge, along));
}
