import type { Cutter } from '../documents/schema/cutter.js';
import { inset, union } from '../surface/polygons.js';
import type { FlatLine } from '../units.js';
import type { CutLine } from './cuts.js';

/** Rings this part of the floor's width apart leave no ridge between them, nor in corners down to 25 degrees. */
const STEP_OF_FLOOR = 0.6;
/** A last ring so far in takes what the one before it leaves in the middle. */
const LAST_OF_FLOOR = 0.45;
/** A cone that ends in a point leaves ridges whatever is done; lines this part of its cut apart leave low ones. */
const STEP_OF_CUT = 0.1;
/** Ridges a ball may leave, mm. */
const SCALLOP_MM = 0.005;

export interface ClearCut {
  /** Width of the cut at the surface, mm. */
  readonly width: number;
  /** Width that is flat at its bottom, mm. */
  readonly floor: number;
}

/**
 * Width of the flat bottom a cutter leaves, mm; for a ball, the step that leaves ridges of a height h no one sees,
 * s = 2 sqrt(R^2 - (R - h)^2) (the standard ball-cutter formula, Machinery's Handbook; from memory).
 */
export function floorWidth(cutter: Cutter): number {
  switch (cutter.shape) {
    case 'cone':
      return cutter.tip;
    case 'flat':
      return cutter.diameter;
    case 'ball': {
      const r = cutter.diameter / 2;
      const h = Math.min(SCALLOP_MM, r);
      return 2 * Math.sqrt(r * r - (r - h) ** 2);
    }
    case 'drag':
    case 'beam':
      return cutter.width;
  }
}

/**
 * The lines that cut an area flat: rings from the middle outward, so that the last, along the edge, is the finishing
 * one and all rings run one way. Places narrower than the cut are not reached.
 */
export function clear(rings: readonly FlatLine[], { width, floor }: ClearCut): CutLine[] {
  const area = union(rings);
  const step = Math.max(floor * STEP_OF_FLOOR, width * STEP_OF_CUT);
  const lines: CutLine[] = [];
  const ring = (by: number): boolean => {
    const left = inset(area, by);
    for (const points of left) lines.push({ points, closed: true });
    return left.length > 0;
  };
  let by = width / 2;
  while (ring(by)) by += step;
  if (by > width / 2) ring(by - step + Math.min(step, floor * LAST_OF_FLOOR));
  return lines.reverse();
}
