import { LEAST_HEIGHT_MM } from '../documents/schema/scalar.js';
import type { ShapedLine } from '../lettering/shaped-line.js';
import {
  type FitRequest,
  type FitResult,
  fitMark,
  leastHeight,
  type NearestChange,
  sizeRange,
  withinSteps,
} from './fit.js';
import type { LineAt, SpreadChange } from './mark-text.js';
import { markLimits } from './phrases.js';
import { StepBudget } from './step-budget.js';

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
  /** What could be changed where they are too long, the least change of each key first. */
  readonly spreadChanges?: (() => Iterable<SpreadChange>) | undefined;
}

export interface SpreadFit {
  readonly result: FitResult;
  readonly lines: ReadonlyMap<string, ShapedLine>;
}

/**
 * The largest size at which words spread to a given length, such as the whole ring, keep clear of everything. What a
 * line is depends on its size, so sizes are tried from the largest down in steps of half a per cent. The least size of
 * the range only ends the search, so that it never changes which size is found; but words that are drawn together where
 * they may get no smaller are tried at that size as well.
 */
export function fitSpread(text: SpreadText, request: FitRequest): SpreadFit {
  const { lineAt, closes, lines } = text;
  const [least, most] = sizeRange(request.mark.size);
  const [low, high] = request.zone.z;
  const z = (low + high) / 2;
  const label = request.lines[0]!.label;
  const fitAt = (size: number, line: ShapedLine, advice: boolean): FitResult =>
    fitMark({ ...request, mark: { ...request.mark, size }, closes, lines: [{ label, line }] }, { advice });
  const isLonger = (size: number) => lineAt(size / NEXT_SIZE, z) === undefined;
  let smallest: { readonly size: number; readonly line: ShapedLine } | undefined;
  const sizes = sizesBetween(most, least);
  if (lineAt(least * HARDLY_LARGER, z) === undefined && sizes.at(-1) !== least) sizes.push(least);
  for (const size of sizes) {
    const line = lineAt(size, z);
    if (!line) continue;
    smallest = { size, line };
    const result = fitAt(size, line, false);
    if (!result.ok) continue;
    const found = isLonger(size) ? byLength(result, label, line) : result;
    return { result: atSize(found, size, most), lines: new Map([[label, line]]) };
  }
  const budget = request.budget ?? new StepBudget();
  const fits = (size: number, line: ShapedLine | undefined, zone = request.zone): boolean =>
    line !== undefined &&
    withinSteps(() => {
      const changed = { mark: { ...request.mark, size }, lines: [{ label, line }], zone };
      return fitMark({ ...request, ...changed, budget: budget.advice, closes }, { advice: false }).ok;
    }) === true;
  // Those that the search would come to with a lower least size.
  const below = sizesBetween(most, leastHeight(request)).filter((size) => size < least);
  const size = firstThatFits(below, (size) => fits(size, lineAt(size, z)));
  const smaller: NearestChange[] = size === undefined ? [] : [{ change: 'size', size }];
  if (!smallest) {
    const lowest = sizesBetween(most, least).at(-1)!;
    const others = spreadChangesThatFit(text, (changed) => fits(lowest, changed(lowest, z)));
    return { result: lengthMisfit(request, least, [...smaller, ...others]), lines };
  }
  const result = fitAt(smallest.size, smallest.line, true);
  if (result.ok) throw new Error('What does not fit fits when it is asked again.');
  const { size: tried } = smallest;
  // On a cone the words are as long as their ring, which a move along changes.
  const isMove = (one: NearestChange): boolean =>
    one.change === 'angle' ||
    (one.change === 'z' && fits(tried, lineAt(tried, one.to), { ...request.zone, z: [one.to, one.to] }));
  const moved = result.nearest.filter(isMove);
  return {
    result: { ...result, nearest: [...smaller, ...moved] },
    lines: new Map([[label, smallest.line]]),
  };
}

/** Words that are too long at this many times the least size, and not at the least itself, are drawn together there. */
const HARDLY_LARGER = 1 + 1e-9;

/** In looking for a size that would do, one in so many is tried, and then those before it. */
const FAR_STEP = 10;

/** The largest size that fits of some that go down, looked for in far steps and then in near ones. */
function firstThatFits(sizes: readonly number[], fits: (size: number) => boolean): number | undefined {
  for (let from = 0; from < sizes.length; from += FAR_STEP) {
    const near = sizes.slice(from, from + FAR_STEP);
    if (fits(near.at(-1)!)) return near.find(fits);
  }
  return undefined;
}

/** Of each key that could be changed, the least change with which the words fit. */
function spreadChangesThatFit(
  { spreadChanges }: SpreadText,
  fits: (lineAt: LineAt) => boolean,
): NearestChange[] {
  const found: NearestChange[] = [];
  for (const { change, to, lineAt } of spreadChanges?.() ?? [])
    if (found.every((other) => other.change !== change) && fits(lineAt)) found.push({ change, to });
  return found;
}

/** Too long at every size: the words as they are say by how much, or the largest size at which they are not too long. */
function lengthMisfit(request: FitRequest, least: number, nearest: NearestChange[]): FitResult {
  const natural = fitMark({ ...request, mark: { ...request.mark, size: least } }, { advice: false });
  if (!natural.ok) return { ...natural, nearest };
  const { label, line } = request.lines[0]!;
  const [to] = nearest;
  const size = to?.change === 'size' ? to.size : LEAST_HEIGHT_MM;
  const limit = { label, glyph: '', obstacle: OWN_LENGTH, clearance: (size - least) * line.width };
  return { ok: false, smallest: { size: least, at: natural.at, limit }, nearest };
}

/** The sizes that are tried from the largest down, both ends counted in. */
function sizesBetween(most: number, least: number): number[] {
  const sizes: number[] = [];
  for (let size = most; size >= least; size = nextSize(size)) sizes.push(size);
  return sizes;
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
