import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Drawing } from '../../src/artwork/svg/drawing.js';
import { DrawingResolver } from '../../src/artwork/svg/drawing-resolver.js';
import { outlines } from '../../src/artwork/svg/outlines.js';
import { readSvg } from '../../src/artwork/svg/read-svg.js';
import { Refusal } from '../../src/problem.js';
import { lineOf, linesOf } from '../words-of.js';
import { CUT_TOO_OFTEN, FOLLOWED, type Hostile, READ, REFUSED, TANGLED } from './hostile-files.js';

/** A place, what is wrong, and how to mend it. */
const LINE = /^art\.svg(:\d+:\d+)?( [\w:#.-]+)?: [A-Z].*\. [A-Z].*\.$/;
/** A collector that gets no turn of its own on a busy machine lets garbage stand. */
const LARGEST_MB = 1000;

/** What comes of a file, and the most memory beyond what was held before, in MB. */
function measured<T>(work: () => T): { made: T; megabytes: number } {
  lowerMark();
  const before = process.memoryUsage().rss / 1e6;
  const made = work();
  return { made, megabytes: highestMark() - before };
}

const OWN_MARK = '/proc/self/clear_refs';

/** Lets the mark of the most memory held begin anew, where the system can (proc(5), clear_refs, value 5). */
function lowerMark(): void {
  if (existsSync(OWN_MARK)) writeFileSync(OWN_MARK, '5');
}

/** The most memory held since then, MB; elsewhere since the process began: more than a file took, never less. */
function highestMark(): number {
  if (!existsSync(OWN_MARK)) return (process.resourceUsage().maxRSS * 1024) / 1e6;
  const line = /^VmHWM:\s+(\d+) kB$/m.exec(readFileSync('/proc/self/status', 'utf8'));
  return (Number(line?.[1]) * 1024) / 1e6;
}

function drawingOf(text: string): Drawing {
  const read = readSvg(text, 'art.svg');
  if (!read.ok) throw new Error(lineOf(read.problem));
  return read.drawing;
}

/** Steps taken of each kind, as parts of its budget. */
const shares = ({ intersections, points, dashes, cut }: DrawingResolver): number[] =>
  [intersections.crossings, intersections.near, intersections.pairs, points, dashes, cut].map(
    ({ used, limit }) => used / limit,
  );

function refusalOf(work: () => unknown): Refusal {
  try {
    work();
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
  throw new Error('it was not refused');
}

/** Reads or refuses the hostile files that are picked. */
export function hostileDrawings(pick: (name: string) => boolean): void {
  const picked = (files: readonly Hostile[]): Hostile[] => files.filter(([name]) => pick(name));
  describe('hostile drawings', () => {
    it.each(picked(REFUSED))('refuses %s', (_, text) => {
      const file = text();
      const { made, megabytes } = measured(() => readSvg(file, 'art.svg'));
      expect(megabytes).toBeLessThan(LARGEST_MB);
      expect(made.ok).toBe(false);
      if (!made.ok) expect(lineOf(made.problem)).toMatch(LINE);
    });

    it.each([
      ...picked(TANGLED).map(([name, text]) => [name, text, 'outline'] as const),
      ...picked(CUT_TOO_OFTEN).map(([name, text]) => [name, text, 'line'] as const),
    ])('reads %s, and refuses its areas or lines', (_, text, strokes) => {
      const drawing = drawingOf(text());
      const resolver = new DrawingResolver();
      const { made, megabytes } = measured(() => refusalOf(() => outlines(drawing, strokes, resolver)));
      expect(megabytes).toBeLessThan(LARGEST_MB);
      expect(made.problems.map((p) => p.code.startsWith('artwork.'))).toEqual([true]);
      expect(linesOf(made)).toMatch(LINE);
      // One budget is used up, and by no more than its last step; no other is.
      expect(shares(resolver).filter((share) => share > 1)).toHaveLength(1);
    });

    it.each(picked(FOLLOWED))('follows %s', (_, text) => {
      const resolver = new DrawingResolver();
      const { lines } = outlines(drawingOf(text()), 'line', resolver);
      expect(lines.length).toBeGreaterThan(100_000);
      expect(shares(resolver).every((share) => share <= 1)).toBe(true);
    });

    it.each(picked(READ))('reads %s', (_, text) => {
      const file = text();
      const { made, megabytes } = measured(() => {
        const drawing = drawingOf(file);
        return [outlines(drawing, 'outline'), outlines(drawing, 'line')];
      });
      expect(megabytes).toBeLessThan(LARGEST_MB);
      const numbers = made
        .flatMap(({ areas, lines }) => [...areas, ...lines])
        .flatMap((s) => s.slice(1) as number[]);
      expect(numbers.filter((v) => !Number.isFinite(v))).toEqual([]);
    });
  });
}
