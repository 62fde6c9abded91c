import type { ShapedLine } from '../lettering/shaped-line.js';
import { type FitRequest, type FitResult, fitMark, sizeRange } from './fit.js';

/** Sizes tried on the way down, each this share of the one before. */
const NEXT_SIZE = 0.995;

/** Words that are spread to a given length, such as the whole ring. */
export interface SpreadText {
  /** The line for a height and a z, both mm; undefined when it is too long. */
  readonly lineAt: (size: number, z: number) => ShapedLine | undefined;
  /** They lead round the ring back into themselves. */
  readonly closes: boolean;
  /** As they are before they are spread. */
  readonly lines: ReadonlyMap<string, ShapedLine>;
}

export interface SpreadFit {
  readonly result: FitResult;
  readonly lines: ReadonlyMap<string, ShapedLine>;
}

/**
 * The largest size at which words spread to a given length, such as the whole ring, keep clear of everything. What a
 * line is depends on its size, so sizes are tried from the largest down in steps of half a per cent.
 */
export function fitSpread({ lineAt, closes, lines }: SpreadText, request: FitRequest): SpreadFit {
  const [least, most] = sizeRange(request.mark.size);
  const [low, high] = request.zone.z;
  const z = (low + high) / 2;
  let last: SpreadFit | undefined;
  for (let size = most; ; size = Math.max(least, Number((size * NEXT_SIZE).toPrecision(4)))) {
    const line = lineAt(size, z);
    if (line) {
      const label = request.lines[0]!.label;
      const fixed = { ...request, mark: { ...request.mark, size }, closes, lines: [{ label, line }] };
      const result = fitMark(fixed);
      const longer = lineAt(size / NEXT_SIZE, z) === undefined;
      const found = longer ? byLength(result, label, line) : result;
      last = { result: atSize(found, size, most), lines: new Map([[label, line]]) };
      if (result.ok) return last;
    }
    if (size <= least) break;
  }
  // Too long at every size: the natural line says by how much.
  return last ?? { result: fitMark({ ...request, mark: { ...request.mark, size: least } }), lines };
}

/** A line that any larger would be too long is stopped by its own length, which grows as its letters do. */
function byLength(result: FitResult, label: string, { width }: ShapedLine): FitResult {
  if (!result.ok) return result;
  const { size, at } = result;
  const limit = { label, glyph: '', obstacle: 'the length its words are spread over' };
  const larger = { size: size * 1.005, at, limit: { ...limit, clearance: -0.005 * width * size } };
  return { ...result, limit: { ...limit, clearance: 0 }, larger };
}

const atSize = (result: FitResult, size: number, most: number): FitResult =>
  result.ok ? { ...result, atLargest: size === most } : result;
