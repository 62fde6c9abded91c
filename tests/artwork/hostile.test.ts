import { describe, expect, it } from 'vitest';
import { outlines, readSvg } from '../../src/artwork/svg.js';
import { problemLine, Refusal } from '../../src/problem.js';
import { type Hostile, READ, REFUSED, TANGLED } from './hostile-files.js';

/** The bars for each file. */
const SLOWEST_S = 2;
const LARGEST_MB = 500;

/** A place, what is wrong, and how to mend it. */
const LINE = /^art\.svg(:\d+:\d+)?: [A-Z].*\. [A-Z].*\.$/;

/** What comes of a file, with the processor's seconds it took (the machine may be at other work) and the most memory beyond what was held before, in MB. */
function measured<T>(work: () => T): { made: T; seconds: number; megabytes: number } {
  const before = process.memoryUsage().rss / 1e6;
  const from = process.cpuUsage();
  const made = work();
  const { user, system } = process.cpuUsage(from);
  const seconds = (user + system) / 1e6;
  // The highest mark of the whole process since it began: more than this file took, never less.
  return { made, seconds, megabytes: (process.resourceUsage().maxRSS * 1024) / 1e6 - before };
}

const withinBars = ({ seconds, megabytes }: { seconds: number; megabytes: number }) => {
  expect(seconds).toBeLessThan(SLOWEST_S);
  expect(megabytes).toBeLessThan(LARGEST_MB);
};

it('counts at least sixty files', () => {
  expect(REFUSED.length + TANGLED.length + READ.length).toBeGreaterThanOrEqual(60);
});

describe('hostile drawings', () => {
  it.each(REFUSED as Hostile[])('refuses %s', (_, text) => {
    const file = text();
    const result = measured(() => readSvg(file, 'art.svg'));
    withinBars(result);
    const read = result.made;
    expect(read.ok).toBe(false);
    if (!read.ok) expect(problemLine(read.problem)).toMatch(LINE);
  });

  it.each(TANGLED as Hostile[])('reads %s, and refuses its areas', (_, text) => {
    const file = text();
    const result = measured(() => {
      const read = readSvg(file, 'art.svg');
      if (!read.ok) throw new Error(problemLine(read.problem));
      try {
        return outlines(read.drawing, 'line');
      } catch (error) {
        return error;
      }
    });
    withinBars(result);
    expect(result.made).toBeInstanceOf(Refusal);
    expect((result.made as Refusal).message).toMatch(/^1:\d+ path: It crosses itself too often.*\.$/);
  });

  it.each(READ as Hostile[])('reads %s', (_, text) => {
    const file = text();
    const result = measured(() => {
      const read = readSvg(file, 'art.svg');
      if (!read.ok) throw new Error(problemLine(read.problem));
      return { ...read, cut: [outlines(read.drawing, 'outline'), outlines(read.drawing, 'line')] };
    });
    withinBars(result);
    const figures = result.made.cut
      .flatMap(({ areas, lines }) => [...areas, ...lines])
      .flatMap((s) => s.slice(1) as number[]);
    expect(figures.filter((v) => !Number.isFinite(v))).toEqual([]);
  });
});
