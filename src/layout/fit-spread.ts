import type { ShapedLine } from '../lettering/shaped-line.js';
import { type FitRequest, type FitResult, fitMark, sizeRange } from './fit.js';
import { markLimits } from './phrases.js';

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
 * line is depends on its size, so sizes are tried from the largest down in steps of half a per cent. The least size of
 * the range only ends the search, so that it never changes which size is found.
 */
export function fitSpread({ lineAt, closes, lines }: SpreadText, request: FitRequest): SpreadFit {
  const [least, most] = sizeRange(request.mark.size);
  const [low, high] = request.zone.z;
  const z = (low + high) / 2;
  let last: SpreadFit | undefined;
  for (let size = most; size >= least; size = nextSize(size)) {
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
  }
  return last ?? { result: lengthMisfit(lineAt, request, least, z), lines };
}

/** Shorter than this share of the least size, no size is looked for that would do. */
const SMALLEST_SHARE = 0.1;

/** Too long at every size: the words as they are say by how much, or the largest size at which they are not too long. */
function lengthMisfit(
  lineAt: SpreadText['lineAt'],
  request: FitRequest,
  least: number,
  z: number,
): FitResult {
  const natural = fitMark({ ...request, mark: { ...request.mark, size: least } });
  if (!natural.ok) return natural;
  let size = least;
  while (size > SMALLEST_SHARE * least && !lineAt(size, z)) size = nextSize(size);
  const found = lineAt(size, z) !== undefined;
  const { label, line } = request.lines[0]!;
  const limit = { label, glyph: '', obstacle: OWN_LENGTH, clearance: (size - least) * line.width };
  return {
    ok: false,
    smallest: { size: least, at: natural.at, limit },
    nearest: found ? [{ change: 'size', size }] : [],
  };
}

const nextSize = (size: number): number => Number((size * NEXT_SIZE).toPrecision(4));

/** What limits words that any larger would be too long for the length that they are spread over, to a person. */
const OWN_LENGTH = markLimits.phrase('layout.own-length', {});

/** A line that any larger would be too long is stopped by its own length, which grows as its letters do. */
function byLength(result: FitResult, label: string, { width }: ShapedLine): FitResult {
  if (!result.ok) return result;
  const { size, at } = result;
  const limit = { label, glyph: '', obstacle: OWN_LENGTH };
  const larger = { size: size * 1.005, at, limit: { ...limit, clearance: -0.005 * width * size } };
  return { ...result, limit: { ...limit, clearance: 0 }, larger };
}

const atSize = (result: FitResult, size: number, most: number): FitResult =>
  result.ok ? { ...result, atLargest: size === most } : result;
