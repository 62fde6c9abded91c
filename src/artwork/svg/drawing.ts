import type { PathCommand } from '../../geometry/path-command.js';
import type { Problem } from '../../problem.js';
import type { Matrix } from './matrix.js';

/** What an SVG file means: paths in mm, y up, from the lower left corner of its viewport. */
export interface Drawing {
  readonly paths: readonly DrawnPath[];
  /** Of the viewport, mm. */
  readonly width: number;
  readonly height: number;
}

export interface DrawnPath {
  readonly path: readonly PathCommand[];
  readonly fill: 'nonzero' | 'evenodd' | 'none';
  readonly stroke?: DrawnStroke;
  /** Areas outside which nothing of it shows, each the union of its shapes. */
  readonly clips: readonly Clip[];
  /** Parts of it whose paint is white, so that it may have been meant to hide something. */
  readonly white: readonly ('fill' | 'stroke')[];
  /** File, line, column and name of its element. */
  readonly where: string;
}

/** A stroke, drawn by a round or square pen in the shape's own units and then carried to mm. */
export interface DrawnStroke {
  readonly width: number;
  readonly cap: 'butt' | 'round' | 'square';
  readonly join: 'miter' | 'round' | 'bevel';
  readonly miter: number;
  readonly dashes: readonly number[];
  readonly dashFrom: number;
  /** What the whole path counts as in the lengths of dashes, where the file says so. */
  readonly pathLength?: number;
  /** What that length is measured on, with its map to mm, where it is not `own`: a stroke that does not scale is drawn on another. */
  readonly measured?: { readonly path: readonly PathCommand[]; readonly map: Matrix };
  /** The path in the shape's own units, and the map from there. */
  readonly own: readonly PathCommand[];
  readonly map: Matrix;
}

export type Clip = readonly { readonly path: readonly PathCommand[]; readonly rule: 'nonzero' | 'evenodd' }[];

export type ReadDrawing =
  | {
      readonly ok: true;
      readonly drawing: Drawing;
      /** What is not drawn as the file asks, each with its place. */
      readonly remarks: readonly Problem[];
    }
  | { readonly ok: false; readonly problem: Problem };
