import { type FitRequest, type FitResult, fitMark, sizeRange } from '../layout/fit.js';
import type { ShapedLine } from '../lettering/shaped-line.js';
import type { LineMark } from './marks.js';

/** Sizes tried on the way down, each this share of the one before. */
const NEXT_SIZE = 0.995;

export interface SpreadFit {
  readonly result: FitResult;
  readonly lines: ReadonlyMap<string, ShapedLine>;
}

/**
 * The largest size at which words spread to a given length, such as the whole ring, keep clear of everything. What a
 * line is depends on its size, so sizes are tried from the largest down in steps of half a per cent.
 */
export function fitSpread(one: LineMark, request: FitRequest): SpreadFit {
  const [least, most] = sizeRange(one.mark.size);
  const z = (one.zone.z[0] + one.zone.z[1]) / 2;
  const closes = one.mark.kind === 'inscription' && one.mark.closes !== undefined;
  let last: SpreadFit | undefined;
  for (let size = most; ; size = Math.max(least, Number((size * NEXT_SIZE).toPrecision(4)))) {
    const line = one.lineAt!(size, z);
    if (line) {
      const label = request.lines[0]!.label;
      const fixed = { ...request, mark: { ...request.mark, size }, closes, lines: [{ label, line }] };
      const result = fitMark(fixed);
      const longer = one.lineAt!(size / NEXT_SIZE, z) === undefined;
      const found = longer ? byLength(result, label, line) : result;
      last = { result: atSize(found, size, most), lines: new Map([[label, line]]) };
      if (result.ok) return last;
    }
    if (size <= least) break;
  }
  // Too long at every size: the natural line says by how much.
  return (
    last ?? { result: fitMark({ ...request, mark: { ...request.mark, size: least } }), lines: one.lines }
  );
}

/** A line that any larger would be too long is stopped by its own length, which grows as its letters do. */
function byLength(result: FitResult, label: string, { width }: ShapedLine): FitResult {
  if (!result.ok) return result;
  const { size, at } = result;
  const limit = { label, glyph: '', obstacle: 'the length its words are spread over' };
  const larger = { size: size * 1.005, at, limit: { ...limit, room: -0.005 * width * size } };
  return { ...result, limit: { ...limit, room: 0 }, larger };
}

const atSize = (result: FitResult, size: number, most: number): FitResult =>
  result.ok ? { ...result, atLargest: size === most } : result;
