import type { G, Svg } from '@svgdotjs/svg.js';
import { told } from './figures.js';
import { broken, INK, QUIET, SERIF, SMALL_MM } from './look.js';
import { type } from './paper.js';
import { shown } from './text.js';

/** What is cut on a surface, as a title block tells it. */
export interface SheetMark {
  /** Equal to `CutBlock.mark` of every block this line is about. */
  readonly mark: string;
  /** What a person calls it, such as `number`. */
  readonly name: string;
  /** Least and greatest height as fitted, mm, and what of; left out for a pattern. */
  readonly sizes?: readonly [number, number];
  readonly drawn?: 'capitals' | 'drawing';
  readonly depth: number;
  /** Name of the cutter. */
  readonly cutter: string;
  /** Width of the line it leaves at that depth, mm: the true stroke width. */
  readonly cutWidth: number;
  readonly way?: 'trace' | 'clear' | 'groove';
  /** Letters, and pairs of them, that will close up when they are cut. */
  readonly closes?: readonly string[];
}

/** Line widths by mark. */
export const cutWidths = (marks: readonly SheetMark[]): ReadonlyMap<string, number> =>
  new Map(marks.map(({ mark, cutWidth }) => [mark, cutWidth]));

/** A design and the digest of its document, 64 hex figures. */
export interface SheetDesign {
  readonly name: string;
  readonly digest: string;
}

export interface Entry {
  readonly key: string;
  readonly value: string;
}

/** A digest short enough to read out and long enough to tell two designs apart. */
export const shortDigest = (digest: string): string => digest.slice(0, 12);

export const markWords = (one: SheetMark): string =>
  [
    ...(one.sizes ? [`${one.drawn ?? 'capitals'} ${sizeWords(one.sizes)} mm`] : []),
    ...depthWords(one),
    ...closesWords(one),
  ].join(', ');

const closesWords = ({ closes = [] }: SheetMark): string[] => {
  if (closes.length === 0) return [];
  const more = closes.length > 8 ? ` and ${closes.length - 8} more` : '';
  return [`will close up: ${closes.slice(0, 8).join(' ')}${more}`];
};

const sizeWords = ([least, most]: readonly [number, number]): string =>
  least === most ? told(least) : `${told(least)} to ${told(most)}`;

function depthWords({ depth, cutter, cutWidth, way }: SheetMark): string[] {
  if (way === 'groove') return [`groove to ${told(depth)} mm deep`, cutter];
  if (way === 'clear') return [`cleared ${told(depth)} mm deep`, cutter];
  return [`${told(depth)} mm deep`, `${cutter}, line ${told(cutWidth)} mm`];
}

const LEADING = 1.45;
export const LINE_MM = SMALL_MM * LEADING;

/** Keys and values in two columns from (x, y), y the top; returns the y below the last line. */
export function drawEntries(
  onto: G | Svg,
  entries: readonly Entry[],
  x: number,
  y: number,
  column: number,
  width: number,
): number {
  let at = y;
  for (const { key, value } of entries) {
    const keys = broken(shown(key), SMALL_MM, column - 1.5, 2);
    const values = broken(shown(value), SMALL_MM, width - column, 3);
    keys.forEach((line, k) => {
      type(onto, line, x, at + (k + 0.75) * LINE_MM, { size: SMALL_MM, fill: QUIET });
    });
    values.forEach((line, k) => {
      type(onto, line, x + column, at + (k + 0.75) * LINE_MM, { size: SMALL_MM, fill: INK, family: SERIF });
    });
    at += Math.max(keys.length, values.length) * LINE_MM + 0.3;
  }
  return at;
}
