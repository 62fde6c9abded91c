import type { Mark } from '../documents/schema/design.js';
import { type FittedText, fittedTexts, type MarkFit } from './fit-marks.js';
import type { MarkToFit } from './mark-to-fit.js';

/** A mark that fits, ready to cut. */
export interface FittedMark {
  readonly of: MarkToFit;
  readonly mark: Mark;
  /** Least and greatest height, mm; left out for patterns. */
  readonly sizes?: readonly [number, number];
  /** What a label has; undefined where the piece has none of this mark, and for tiles, which no label changes. */
  textOf(label: string): FittedText | undefined;
}

/** What is cut of a fit that has no problems. */
export function fittedMark(fit: MarkFit): FittedMark {
  const { of } = fit;
  const { mark } = of;
  if (fit.kind === 'tiled') {
    const size = mark.kind === 'motif' && typeof mark.size === 'number' ? mark.size : undefined;
    return { of, mark, ...(size === undefined ? {} : { sizes: [size, size] }), textOf: () => undefined };
  }
  const numbered = mark.kind === 'number' || mark.kind === 'dedication';
  if (fit.kind === 'shared') {
    const { lines, result } = fit;
    if (!result.ok) return { of, mark, textOf: () => undefined };
    const { size, at } = result;
    // Made when it is asked for: a hundred thousand labels differ in nothing but their line.
    const textOf = (label: string): FittedText | undefined => {
      const line = lines.get(label);
      return line && { label, line, size, at };
    };
    const [only, second] = lines.keys();
    const same = only !== undefined && second === undefined ? textOf(only) : undefined;
    return { of, mark, sizes: [size, size], textOf: numbered ? textOf : () => same };
  }
  const texts = new Map(fittedTexts(fit).map((text) => [text.label, text]));
  const heights = [...texts.values()].map((text) => text.size);
  const sizes = heights.length > 0 ? { sizes: [least(heights), greatest(heights)] as const } : {};
  return { of, mark, ...sizes, textOf: (label) => texts.get(label) };
}

const least = (values: readonly number[]): number => values.reduce((a, b) => Math.min(a, b));
const greatest = (values: readonly number[]): number => values.reduce((a, b) => Math.max(a, b));
