import type { Element } from '@svgdotjs/svg.js';
import { displayText } from './display-text.js';
import { formatNumber } from './readable-numbers.js';
import { drawText } from './svg-canvas.js';
import { breakLines } from './text-fit.js';
import { INK, QUIET, SERIF, SMALL_MM } from './theme.js';

/** What is cut on a surface, as a title block describes it. */
export interface SheetMark {
  /** Equal to `CutBlock.mark` of every block this line is about. */
  readonly mark: string;
  /** What a person calls it, such as `number`. */
  readonly name: string;
  /** Least and greatest height as fitted, mm, and what of; left out for a pattern. */
  readonly sizes?: readonly [number, number];
  readonly sizeOf?: 'capitals' | 'drawing';
  readonly depth: number;
  /** Name of the cutter. */
  readonly cutter: string;
  /** Width of the line it leaves at that depth, mm: the true stroke width. */
  readonly cutWidth: number;
  readonly strategy?: 'trace' | 'clear' | 'groove';
  /** Letters, and pairs of them, whose strokes are too close to cut. */
  readonly tooClose?: readonly string[];
}

/** Line widths by mark. */
export const cutWidths = (marks: readonly SheetMark[]): ReadonlyMap<string, number> =>
  new Map(marks.map(({ mark, cutWidth }) => [mark, cutWidth]));

/** A design and the digest of its document, 64 hex digits. */
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

/** Size, depth and cutter of a mark, and what of it is too close to cut. */
export const describeMark = (one: SheetMark): string =>
  [
    ...(one.sizes ? [`${one.sizeOf ?? 'capitals'} ${describeSizes(one.sizes)} mm`] : []),
    ...describeDepth(one),
    ...describeTooClose(one),
  ].join(', ');

const describeTooClose = ({ tooClose = [] }: SheetMark): string[] => {
  if (tooClose.length === 0) return [];
  const more = tooClose.length > 8 ? ` and ${tooClose.length - 8} more` : '';
  return [`strokes too close to cut: ${tooClose.slice(0, 8).join(' ')}${more}`];
};

const describeSizes = ([least, most]: readonly [number, number]): string =>
  least === most ? formatNumber(least) : `${formatNumber(least)} to ${formatNumber(most)}`;

function describeDepth({ depth, cutter, cutWidth, strategy }: SheetMark): string[] {
  if (strategy === 'groove') return [`groove to ${formatNumber(depth)} mm deep`, cutter];
  if (strategy === 'clear') return [`cleared ${formatNumber(depth)} mm deep`, cutter];
  return [`${formatNumber(depth)} mm deep`, `${cutter}, line ${formatNumber(cutWidth)} mm`];
}

const LEADING = 1.45;
export const LINE_MM = SMALL_MM * LEADING;

/** Keys and values in two columns from (x, y), y the top, mm; gives the y below the last line. */
export function drawEntries(
  parent: Element,
  entries: readonly Entry[],
  x: number,
  y: number,
  column: number,
  width: number,
): number {
  let at = y;
  for (const { key, value } of entries) {
    const keys = breakLines(displayText(key), SMALL_MM, column - 1.5, 2);
    const values = breakLines(displayText(value), SMALL_MM, width - column, 3);
    keys.forEach((line, k) => {
      drawText(parent, line, x, at + (k + 0.75) * LINE_MM, { size: SMALL_MM, fill: QUIET });
    });
    values.forEach((line, k) => {
      drawText(parent, line, x + column, at + (k + 0.75) * LINE_MM, {
        size: SMALL_MM,
        fill: INK,
        family: SERIF,
      });
    });
    at += Math.max(keys.length, values.length) * LINE_MM + 0.3;
  }
  return at;
}
